"""The backups there are, where they lie, and whether one more is due."""

from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime, timedelta, tzinfo
from pathlib import Path

from board.ledger.backups.copy import UNFINISHED, copy_into
from board.ledger.backups.held import held
from board.ledger.backups.named import Backup, Kind, named
from board.ledger.backups.thinning import needless

ABANDONED_AFTER = timedelta(days=1)  # what a killed program left half made


def folder_of(ledger: Path) -> Path:
    """Where the backups of a ledger lie: beside it."""
    return ledger.with_name(f"{ledger.name}.backups")


def backups_in(folder: Path) -> list[Backup]:
    """All backups in a folder by their names, the newest first; none where there is no such folder."""
    try:
        files = list(folder.iterdir())
    except OSError:
        return []
    found = [backup for file in files if (backup := named(file)) is not None]
    return sorted(found, key=lambda one: (one.at, one.seq), reverse=True)


def back_up(ledger: Path, kind: Kind, now: datetime, zone: tzinfo) -> Backup:
    """Make a backup beside the ledger, and let those go that are not needed any more.

    Raises:
        LedgerError: it could not be made; no other was touched.
    """
    made = copy_into(folder_of(ledger), ledger, kind, now)
    thin(made.path.parent, now, zone)
    return made


def thin(folder: Path, now: datetime, zone: tzinfo) -> None:
    """Let backups go that are not needed any more, and what a killed program left half made long ago."""
    for backup in needless(backups_in(folder), now, zone):
        with suppress(OSError):  # it goes the next time, or stays
            backup.path.unlink(missing_ok=True)
    with held(folder, alone=True) as nobody_makes_one:
        if nobody_makes_one:
            _sweep(folder, now)


def is_due(backups: Sequence[Backup], last_seq: int, now: datetime, zone: tzinfo) -> bool:
    """Whether the day's backup is still to be made: none is of today, and something was written since."""
    today = now.astimezone(zone).date()
    if not last_seq or any(one.at.astimezone(zone).date() == today for one in backups):
        return False
    last = next((one for one in backups if one.at <= now), None)
    return last is None or last.seq != last_seq


def _sweep(folder: Path, now: datetime) -> None:
    for file in folder.glob(f".*{UNFINISHED}"):
        with suppress(OSError):  # whose it is has just given it its name
            if now.timestamp() - file.stat().st_mtime > ABANDONED_AFTER.total_seconds():
                file.unlink(missing_ok=True)
