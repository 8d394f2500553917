"""The backups beside a ledger: each goes the same way as the ledger's own chain, as far as it goes."""

import sqlite3
from contextlib import suppress
from pathlib import Path

from board.ledger.doctor.finding import Look, numbers, some
from board.ledger.doctor.raw import looking
from board.ledger.doctor.told import KIND as MENDED
from board.ledger.doctor.told import Told
from board.ledger.schema import APPLICATION_ID

RESTORED = "restored"  # the kind of entry at which a ledger leaves the way that later backups went


def look_at_backups(path: Path, connection: sqlite3.Connection, told: Told) -> Look:
    """Each backup's links beside the ledger's; they part only where an entry says that one was restored."""
    faults, notes, count = [], [], 0
    for backup in backups_of(path):
        count += 1
        try:
            with looking(backup) as other:
                fault, note = _compared(backup.name, connection, other, told)
        except sqlite3.DatabaseError as error:
            fault, note = f"the backup {backup.name} cannot be read: {error}", ""
        faults += [fault] if fault else []
        notes += [note] if note else []
    return Look("backups", f"{count} backups beside the ledger", some(faults), tuple(notes))


def backups_of(path: Path) -> list[Path]:
    """The backups beside a ledger that are ledgers by their first bytes, the latest first."""
    folder = path.with_name(f"{path.name}.backups")
    files = sorted(folder.iterdir(), reverse=True) if folder.is_dir() else []
    return [each for each in files if each.is_file() and is_ledger(each)]


def is_ledger(path: Path) -> bool:
    """Whether a file bears a ledger's mark, at byte 68 of a database (sqlite.org/fileformat.html, 1.3)."""
    with suppress(OSError), path.open("rb") as file:
        return file.read(72)[68:] == APPLICATION_ID.to_bytes(4, "big")
    return False


def _compared(name: str, ours: sqlite3.Connection, theirs: sqlite3.Connection, told: Told) -> tuple[str, str]:
    """A fault and a note of one backup, empty where there is none."""
    mine, other = _last_link(ours), _last_link(theirs)
    if other == 0:
        return "", ""  # from before there were links
    same = _parting(ours, theirs, min(mine, other))
    if same == other:
        return "", ""
    if same == mine:
        return f"entries {numbers(range(mine + 1, other + 1))} are in the backup {name} and missing here", ""
    parted = same + 1
    if _kind(ours, parted) == RESTORED:
        return "", f"the backup {name} is of a time that was left again with entry {parted}"
    if parted in told.lost or parted in told.taken or _kind(ours, parted) == MENDED:
        return "", f"the backup {name} goes another way from entry {parted} on, where this ledger was mended"
    return f"the backup {name} has other entries than this ledger from entry {parted} on", ""


def _parting(ours: sqlite3.Connection, theirs: sqlite3.Connection, most: int) -> int:
    """The last entry number at which both chains are at the same link; each link stands for all before it."""
    low, high = 0, most
    while low < high:
        middle = (low + high + 1) // 2
        if _link(ours, middle) == _link(theirs, middle) is not None:
            low = middle
        else:
            high = middle - 1
    return low


def _last_link(connection: sqlite3.Connection) -> int:
    if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'links'").fetchone():
        return 0
    row = connection.execute("SELECT max(seq) FROM links").fetchone()
    return int(row[0] or 0)


def _link(connection: sqlite3.Connection, seq: int) -> str | None:
    row = connection.execute("SELECT sha256 FROM links WHERE seq = ?", (seq,)).fetchone()
    return str(row[0]) if row else None


def _kind(connection: sqlite3.Connection, seq: int) -> str | None:
    row = connection.execute("SELECT kind FROM entries WHERE seq = ?", (seq,)).fetchone()
    return str(row[0]) if row else None
