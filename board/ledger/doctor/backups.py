"""The backups beside a ledger: each goes the same way as the ledger's own chain, as far as it goes."""

import sqlite3
from collections.abc import Callable, Mapping, Sequence
from functools import partial

from board.errors import LedgerError
from board.house.wording import count
from board.ledger.backups.named import Backup
from board.ledger.backups.sound import check_sound
from board.ledger.doctor.finding import Look, numbers, some
from board.ledger.doctor.raw import BROKEN, looking
from board.ledger.pieces import pieces
from board.ledger.told import KIND as MENDED
from board.ledger.told import Told

RESTORED = "restored"  # the kind of entry at which a ledger leaves the way that later backups went


def look_at_backups(backups: Sequence[Backup], connection: sqlite3.Connection, told: Told) -> Look:
    """Each backup's links beside the ledger's; they part only where an entry says that one was restored.

    Args:
        backups: those that were there before the moment of the ledger that is looked at: a later one may
            hold entries written since.
        connection: the ledger at that moment.
        told: what is told of as missing.
    """
    ours, faults, notes = links_of(connection), [], []
    for backup in backups:
        try:
            check_sound(backup.path)
            with looking(backup.path) as other:
                kinds = partial(_kinds, (connection, other))
                fault, note = _compared(backup.path.name, ours, links_of(other), kinds, told)
        except (*BROKEN, LedgerError) as error:
            if not backup.path.exists():  # thinned out meanwhile
                continue
            fault, note = str(error), ""
        faults += [fault] if fault else []
        notes += [note] if note else []
    return Look("backups", f"{count(len(backups), 'backup')} beside the ledger", some(faults), some(notes))


def links_of(connection: sqlite3.Connection) -> Mapping[int, str]:
    """The links of a ledger by number."""
    return {piece.entry.seq: piece.sha256 or "" for piece in pieces(connection)}


def _compared(
    name: str,
    ours: Mapping[int, str],
    theirs: Mapping[int, str],
    kinds: Callable[[int], set[str]],
    told: Told,
) -> tuple[str, str]:
    """A fault and a note of one backup, empty where there is none.

    Of two ways that part, one at least begins with having been restored or mended: the ledger's own, or that
    of a backup which was kept when an older one was put back.
    """
    parted = next((seq for seq in sorted(theirs) if ours.get(seq) != theirs[seq]), None)
    if parted is None:
        return "", ""
    if parted > max(ours, default=0):
        missing = numbers(seq for seq in theirs if seq >= parted)
        return f"entry {missing} of the backup {name} is missing here", ""
    begins = kinds(parted)
    if RESTORED in begins:
        return "", f"the backup {name} is of a time that was left again with entry {parted}"
    if parted in told.lost or parted in told.taken or MENDED in begins:
        return "", f"the backup {name} goes another way from entry {parted} on, where this ledger was mended"
    return f"the backup {name} has other entries than this ledger from entry {parted} on", ""


def _kinds(sides: Sequence[sqlite3.Connection], seq: int) -> set[str]:
    """What kind of entry has a number, in the ledger and in a backup."""
    sql = "SELECT kind FROM entries WHERE seq = ?"
    return {str(row[0]) for side in sides for row in side.execute(sql, (seq,))}
