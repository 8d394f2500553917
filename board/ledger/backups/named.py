"""A backup as its file's name tells it: when it was made, up to which entry, and why."""

import re
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

_NAME = re.compile(r"(\d{4}-\d\d-\d\dT\d{6}\.\d{3})Z-(\d+)-([a-z]+)\.db")
_MOMENT = "%Y-%m-%dT%H%M%S.%f"


class Kind(StrEnum):
    """Why a backup was made; the word stands in its name."""

    DAILY = "daily"
    ASKED = "asked"
    MIGRATION = "migration"  # before a newer program changed the tables
    RESTORE = "restore"  # what stood before another was put back


@dataclass(frozen=True, slots=True)
class Backup:
    """One backup: its file, when it was made, the number of its last entry, and why it was made."""

    path: Path
    at: datetime
    seq: int
    kind: Kind


def name_of(at: datetime, seq: int, kind: Kind) -> str:
    """The file name of a backup, such as 2026-12-09T113000.000Z-1234-daily.db; sorted as time goes."""
    moment = at.astimezone(UTC).strftime(_MOMENT)[:-3]  # milliseconds of microseconds
    return f"{moment}Z-{seq}-{kind}.db"


def named(path: Path) -> Backup | None:
    """The backup that a file is by its name; None where the name is no backup's."""
    found = _NAME.fullmatch(path.name)
    if found is None:
        return None
    moment, seq, kind = found.groups()
    try:
        at = datetime.strptime(moment, _MOMENT).replace(tzinfo=UTC)
        return Backup(path, at, int(seq), Kind(kind))
    except ValueError:
        return None
