"""Ledgers of old versions before a fault, and what must be there of them after it, found by plain SQLite."""

import gzip
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from tempfile import TemporaryDirectory

from board.ledger.lean import Database
from board.ledger.open import open_ledger
from board.ledger.schema import migrations
from tests.faults import after

RELEASED = Path(__file__).parents[1] / "ledger" / "released"
LOGS = ("-wal", "-journal")
NAMES = "SELECT name FROM _sqlite_migrations ORDER BY id"
NAMED = "[!.]*"  # what lies in the folder of backups and is not half made
Content = dict[str, list[str]]


class Shape(StrEnum):
    """How an old ledger lies there."""

    CLOSED = "closed"
    IN_ITS_LOG = "in its log"  # all of it in the log that a killed program left
    BY_HAND = "by hand"  # a backup that somebody put there, with no log and a journal for writing


@dataclass(frozen=True, slots=True)
class Old:
    """An old ledger: its files by the ends of their names, all it holds, and all it holds once brought up."""

    name: str
    files: dict[str, bytes]
    before: Content
    after: Content


def kept(only: str = "") -> list[tuple[Path, Shape]]:
    """Each kept ledger that has migrations to come, in each shape that has this in its name."""
    steps = migrations.pending(Database(memory=True, execute_plugins=False))
    found = []
    for file in sorted(RELEASED.glob("*.db.gz")):
        with TemporaryDirectory() as folder, closing(sqlite3.connect(_unpacked(file, Path(folder)))) as db:
            is_old = len(db.execute(NAMES).fetchall()) < len(steps)
        found += [(file, shape) for shape in Shape if is_old and only in _name(file, shape)]
    return found


def made(file: Path, shape: Shape) -> Old:
    """A kept ledger in a shape, and what it holds before and after it is opened undisturbed."""
    with TemporaryDirectory() as folder:
        files = _files(_unpacked(file, Path(folder)), shape)
        path = Path(folder) / "whole" / "board.db"
        path.parent.mkdir()
        lay(Old(_name(file, shape), files, {}, {}), path)
        before = content(path)
        open_ledger(path).close()
        return Old(_name(file, shape), files, before, content(path))


def lay(old: Old, path: Path) -> None:
    """Put an old ledger in a place, for its owner alone, and nothing beside it."""
    for there in path.parent.glob(f"{path.name}*"):
        shutil.rmtree(there) if there.is_dir() else there.unlink()
    for end, content in old.files.items():
        file = path.with_name(f"{path.name}{end}")
        file.write_bytes(content)
        file.chmod(0o600)


def complaints(old: Old, path: Path, *, opened: bool = False) -> tuple[str, list[str]]:
    """How far a ledger came before a fault, and all that is wrong with it, then and once it is opened again.

    It came to be `migrated`, to be `backed up` or is still `as it was`; `opened`: somebody was told that it
    is open, so it must be migrated.
    """
    found, made_before = content(path), backups(path)
    wrong = [*_wrong_backups(old, path)]
    if found not in (old.before, old.after):
        return "neither", [*wrong, f"it is neither as it was nor migrated: {differing(found, old.after)}"]
    is_new = found == old.after
    if opened and not is_new:
        wrong.append("it was opened, and is not migrated")
    if is_new and not made_before:
        wrong.append("it is migrated without a backup")
    wrong += _opened_again(old, path, is_new, len(made_before))
    return "migrated" if is_new else "backed up" if made_before else "as it was", wrong


def content(path: Path) -> Content:
    """All that a ledger holds but for when it was migrated, table by table; of a copy, whose log may go."""
    with TemporaryDirectory() as folder:
        copy = Path(folder) / path.name
        for end in ("", *LOGS):
            if (file := path.with_name(f"{path.name}{end}")).exists():
                shutil.copyfile(file, copy.with_name(f"{copy.name}{end}"))
        try:
            with closing(sqlite3.connect(copy)) as db:
                return _content(db)
        except sqlite3.DatabaseError as error:
            return {"damaged": [str(error)]}


def differing(one: Content, other: Content) -> str:
    """The first few rows that only one of the two has."""
    rows = [
        f"{table}: {row}" for table in one | other for row in {*one.get(table, ())} ^ {*other.get(table, ())}
    ]
    return "; ".join(row[:120] for row in rows[:3])


def _content(db: sqlite3.Connection) -> Content:
    sound = db.execute("PRAGMA integrity_check").fetchall()
    if sound != [("ok",)]:
        return {"damaged": [str(row) for row in sound[:3]]}
    tables = db.execute("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE '%migrations'")
    found = {name: sorted(map(repr, db.execute(f'SELECT * FROM "{name}"'))) for (name,) in tables.fetchall()}
    schema = "SELECT type, name, tbl_name, sql FROM sqlite_schema"
    return found | {
        "schema": sorted(map(repr, db.execute(schema))),
        "migrations": [*map(repr, db.execute(NAMES))],
    }


def _name(file: Path, shape: Shape) -> str:
    return f"{file.name.partition('-')[0]} {shape}"


def _unpacked(file: Path, folder: Path) -> Path:
    path = folder / "old.db"
    path.write_bytes(gzip.decompress(file.read_bytes()))
    return path


def _files(path: Path, shape: Shape) -> dict[str, bytes]:
    """A closed ledger in another shape."""
    if shape is Shape.CLOSED:
        return {"": path.read_bytes()}
    place = path.with_name("shaped.db")
    with closing(sqlite3.connect(path)) as old, closing(sqlite3.connect(place)) as db:
        if shape is Shape.IN_ITS_LOG:
            db.execute("PRAGMA journal_mode = WAL")
            db.execute("PRAGMA wal_autocheckpoint = 0")
        old.backup(db)
        if shape is Shape.BY_HAND:
            db.execute("PRAGMA journal_mode = DELETE")
        ends = [end for end in ("", "-wal") if place.with_name(f"{place.name}{end}").exists()]
        return {end: place.with_name(f"{place.name}{end}").read_bytes() for end in ends}


def backups(path: Path) -> list[Path]:
    """What lies among the backups of a ledger under a name that does not say half made."""
    return sorted(path.with_name(f"{path.name}.backups").glob(NAMED))


def _wrong_backups(old: Old, path: Path) -> Iterator[str]:
    """What has a proper name is whole, and is the ledger as it was."""
    for backup in backups(path):
        if not backup.name.endswith("-migration.db"):
            yield f"{backup.name} lies among the backups"
        elif (kept := content(backup)) != old.before:
            yield f"the backup {backup.name} is not the ledger as it was: {differing(kept, old.before)}"


def _opened_again(old: Old, path: Path, was_new: bool, made_before: int) -> Iterator[str]:
    """What is wrong once the program opens it: it is migrated and backed up, and it goes on."""
    try:
        open_ledger(path).close()
    except Exception as error:
        yield f"it does not open again: {error!r}"
        return
    if content(path) != old.after:
        yield f"opened again, it is not what it comes to: {differing(content(path), old.after)}"
    if not was_new and len(backups(path)) != made_before + 1:
        yield "it was migrated without a backup of this time"
    yield from _wrong_backups(old, path)
    yield from after.goes_on(path)
