"""One copy of a ledger as it stands, while others write it: whole under its name, or not there."""

import errno
import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from tempfile import mkstemp

from board.errors import LedgerError
from board.house.put_file import LOGS, sync_names
from board.ledger.backups.held import held
from board.ledger.backups.named import Backup, Kind, name_of
from board.ledger.backups.sound import DamagedError, Reached, check_sound
from board.ledger.faults import MENDS, primary_code

PATIENCE_SECONDS = 20.0
UNFINISHED = ".new"  # how the name of a copy ends that is not whole yet

# Primary result codes of SQLite, https://www.sqlite.org/rescode.html
_SENTENCES = {
    sqlite3.SQLITE_FULL: "there is no room left on its disk; free some space",
    sqlite3.SQLITE_IOERR: "its disk could not be read or written; check the disk",
    sqlite3.SQLITE_READONLY: "nothing can be written there; allow writing to it",
    sqlite3.SQLITE_CANTOPEN: "nothing can be opened there; allow reading and writing",
    sqlite3.SQLITE_CORRUPT: f"the ledger is damaged; {MENDS}",
    sqlite3.SQLITE_NOTADB: f"the ledger is damaged; {MENDS}",
    sqlite3.SQLITE_BUSY: "another program keeps the ledger to itself; try again in a moment",
}
# what a disk says, as SQLite would
_DISK_SAYS = {
    errno.ENOSPC: _SENTENCES[sqlite3.SQLITE_FULL],
    errno.EDQUOT: _SENTENCES[sqlite3.SQLITE_FULL],
    errno.EIO: _SENTENCES[sqlite3.SQLITE_IOERR],
    errno.EROFS: _SENTENCES[sqlite3.SQLITE_READONLY],
    errno.EACCES: _SENTENCES[sqlite3.SQLITE_READONLY],
    errno.EEXIST: "a file is in the folder's place; move it away",
    errno.ENOTDIR: "a file is in the folder's place; move it away",
}


def copy_into(folder: Path, ledger: Path, kind: Kind, at: datetime | None = None) -> Backup:
    """Copy a ledger into a folder and prove the copy by opening it; it has its name once it is on disk.

    Args:
        folder: where the copy goes; made, for its owner alone, where there is none.
        ledger: the ledger file; it may be written meanwhile, the copy is of one moment.
        kind: why the copy is made.
        at: the moment in its name; else the one the disk gives the file.

    Raises:
        LedgerError: no room, not writable, or the ledger itself is damaged.
    """
    with told(f"the ledger {ledger} could not be backed up into {folder}"), unfinished(folder) as file:
        _fill(file, ledger)
        found = _proved(file)
        moment = at or datetime.fromtimestamp(file.stat().st_mtime, UTC)
        place = folder / name_of(moment, found.seq, kind)
        put(file, place)
    return Backup(place, moment, found.seq, kind)


def _proved(file: Path) -> Reached:
    """How far the copy goes; a copy that is damaged was made of a ledger that is."""
    try:
        return check_sound(file)
    except DamagedError as error:
        raise sqlite3.DatabaseError(_SENTENCES[sqlite3.SQLITE_CORRUPT]) from error


@contextmanager
def unfinished(folder: Path) -> Iterator[Path]:
    """An empty file of its owner's in a folder, gone afterwards unless it was given a name."""
    folder.mkdir(mode=0o700, exist_ok=True)
    sync_names(folder.parent)  # whose copy is on disk under a folder that is not has none
    with held(folder):
        opened, name = mkstemp(dir=folder, prefix=".", suffix=UNFINISHED)
        os.close(opened)
        file = Path(name)
        try:
            yield file
        finally:
            for end in ("", *LOGS):
                with suppress(OSError):  # then it goes a day later; what was made is made
                    file.with_name(f"{file.name}{end}").unlink(missing_ok=True)


def put(file: Path, place: Path) -> None:
    """Give a file its name once it is on disk; the name is on disk too when this returns.

    Raises:
        OSError: the disk does not take it, or took not all of its log into the file: SQLite does not tell
            where that fails as a file is closed.
    """
    log = file.with_name(f"{file.name}-wal")
    if log.exists() and log.stat().st_size:
        raise OSError(errno.EIO, os.strerror(errno.EIO), str(file))
    sync(file)
    file.replace(place)
    sync_names(place.parent)


def sync(file: Path) -> None:
    """Wait until all of a file is on disk."""
    opened = os.open(file, os.O_RDWR)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def _fill(file: Path, ledger: Path) -> None:
    """Copy all pages of one moment; the copy is one file without a log beside it."""
    with connected(ledger) as source, connected(file) as target:
        for setting in ("journal_mode = OFF", "synchronous = OFF"):  # synced as a whole before it is named
            target.execute(f"PRAGMA {setting}")
        source.backup(target)
        target.execute("PRAGMA journal_mode = DELETE")


@contextmanager
def connected(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection to a file that is there, to copy or to hold it; it waits for who writes."""
    place = f"{path.absolute().as_uri()}?mode=rw"
    connection = sqlite3.connect(place, uri=True, timeout=PATIENCE_SECONDS, isolation_level=None)
    with closing(connection):
        yield connection


@contextmanager
def told(says: str) -> Iterator[None]:
    """Say in a line what could not be done, and why."""
    try:
        yield
    except OSError as error:
        why = _DISK_SAYS.get(error.errno or 0, error.strerror or str(error))
        raise LedgerError(f"{says}: {why}") from error
    except sqlite3.DatabaseError as error:
        raise LedgerError(f"{says}: {_SENTENCES.get(primary_code(error), str(error))}") from error
