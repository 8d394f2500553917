"""The file itself: whole as SQLite sees it, each reference leading somewhere, and its owner's alone."""

import sqlite3
import stat
from collections.abc import Iterator
from pathlib import Path

from board.errors import LedgerError
from board.ledger.backups.catalogue import folder_of
from board.ledger.doctor.finding import MOST, Look, numbers, some
from board.ledger.doctor.raw import quoted
from board.ledger.told import Told

PERMISSIONS = "permissions"
OTHERS = stat.S_IRWXG | stat.S_IRWXO


def look_at_file(connection: sqlite3.Connection) -> Look:
    """SQLite's own check of every page, index, type and constraint (PRAGMA integrity_check)."""
    pages = connection.execute("PRAGMA page_count").fetchone()[0]
    said = [str(row[0]) for row in connection.execute(f"PRAGMA integrity_check({4 * MOST})")]
    faults = () if said == ["ok"] else some(" ".join(line.split()) for line in said)
    return Look("the file", f"{pages} pages of it", faults)


def look_at_references(connection: sqlite3.Connection, told: Told) -> Look:
    """Each reference leads to a row (PRAGMA foreign_key_check), or to an entry that was told to be lost."""
    faults: list[str] = []
    gone: set[int] = set()
    found = connection.execute("PRAGMA foreign_key_check")
    for table, parent, key in sorted({(table, parent, key) for table, _, parent, key in found}):
        for seq in _not_there(connection, table, key):
            if parent == "entries" and seq in told.lost:
                gone.add(seq)
            else:
                faults.append(f"a row of {table} names {parent} {seq}, which is not there")
    notes = (f"entries {numbers(gone)} are named by others, and were told to be lost",) if gone else ()
    return Look("references", "every reference from one row to another", some(faults), notes)


def look_at_permissions(path: Path) -> Look:
    """Nobody but its owner may read or write the ledger, its companions and the folder of its backups."""
    open_to_others = [p for p in own_files(path) if stat.S_IMODE(p.stat().st_mode) & OTHERS]
    faults = (f"{p.name} may be read or written by others than its owner" for p in open_to_others)
    return Look(PERMISSIONS, "who may read the files", tuple(faults))


def make_private(path: Path) -> None:
    """Take from all but the owner what they may do with the ledger's files.

    Raises:
        LedgerError: they are another's files.
    """
    for each in own_files(path):
        mode = stat.S_IMODE(each.stat().st_mode)
        if mode & OTHERS:
            try:
                each.chmod(mode & ~OTHERS)
            except OSError as error:
                raise LedgerError(
                    f"{each} cannot be made private: {error.strerror}; ask its owner"
                ) from error


def own_files(path: Path) -> Iterator[Path]:
    """The ledger, the files that SQLite keeps beside it, and its backups with their folder."""
    backups = folder_of(path)
    beside = [path, path.with_name(f"{path.name}-wal"), path.with_name(f"{path.name}-shm"), backups]
    kept = sorted(backups.iterdir()) if backups.is_dir() else []
    return (each for each in (*beside, *kept) if each.exists())


def _not_there(connection: sqlite3.Connection, table: str, key: int) -> list[int]:
    """What a table names by one of its references, and what is not there."""
    keys = connection.execute(f"PRAGMA foreign_key_list({quoted(table)})").fetchall()
    parent, column, named = next(found[2:5] for found in keys if found[0] == key)
    rows = connection.execute(
        f"""SELECT DISTINCT {quoted(column)} FROM {quoted(table)}
        WHERE {quoted(column)} NOT IN (SELECT {quoted(named or "rowid")} FROM {quoted(parent)}) ORDER BY 1"""
    )
    return [seq for (seq,) in rows]
