"""What would be lost, and what would come back, if a backup stood in the ledger's place."""

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import takewhile
from pathlib import Path

from board.errors import LedgerError
from board.ledger.backups.named import Backup
from board.ledger.backups.sound import DamagedError, opened_to_read
from board.ledger.links import ENTRIES


@dataclass(frozen=True, slots=True)
class Parting:
    """Up to which entry two records say the same, and how many entries each has beyond."""

    common: int
    lost: int
    back: int


def parting(ledger: Path, backup: Path) -> Parting | None:
    """Where a ledger and a backup part; None where the ledger cannot be read any more.

    Raises:
        LedgerError: the backup cannot be read, or the ledger is kept busy.
    """
    with opened_to_read(backup) as kept:
        try:
            with opened_to_read(ledger) as present:
                return _parting(present, kept)
        except DamagedError:
            kept.execute("SELECT max(seq) FROM entries").fetchone()  # whose fault it was
            return None


def furthest(backups: Sequence[Backup]) -> Backup:
    """The newest of backups, or the one that goes on furthest from it.

    A clock that was ahead dates a backup later than those made after it was set right; those go on from it.
    What was left again by a restore has more entries too, and does not go on from what came after.
    """
    newest, *others = backups
    on = sorted((one for one in others if one.seq > newest.seq), key=lambda one: one.seq, reverse=True)
    return next((one for one in on if _goes_on(newest, one)), newest)


def _goes_on(one: Backup, other: Backup) -> bool:
    """Whether the other has all entries of the first; not where either cannot be read."""
    try:
        parts = parting(one.path, other.path)
    except LedgerError:
        return False
    return parts is not None and not parts.lost


def _parting(present: sqlite3.Connection, kept: sqlite3.Connection) -> Parting:
    pairs = zip(present.execute(ENTRIES), kept.execute(ENTRIES), strict=False)
    common = max((ours[0] for ours, _ in takewhile(lambda pair: pair[0] == pair[1], pairs)), default=0)
    lost, back = (
        side.execute("SELECT count(*) FROM entries WHERE seq > ?", (common,)).fetchone()[0]
        for side in (present, kept)
    )
    return Parting(common, lost, back)
