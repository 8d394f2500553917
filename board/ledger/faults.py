"""What SQLite says when it cannot, as one line a cook can act on."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from board.errors import LedgerError

MENDS = "board doctor --mend mends what can be"

# Primary result codes of SQLite, https://www.sqlite.org/rescode.html
SENTENCES = {
    sqlite3.SQLITE_BUSY: "is being written by another program and stayed busy; wait a moment and try again",
    sqlite3.SQLITE_LOCKED: "is being written by another program and stayed busy; wait a moment and try again",
    sqlite3.SQLITE_READONLY: "cannot be written; allow writing to the file and its folder",
    sqlite3.SQLITE_PERM: "cannot be written; allow writing to the file and its folder",
    sqlite3.SQLITE_CANTOPEN: "cannot be opened; check that the folder exists and can be written",
    sqlite3.SQLITE_NOTADB: "is not a ledger; name the ledger file, or a new one",
    sqlite3.SQLITE_CORRUPT: f"is damaged, or its disk fails; {MENDS}, and keeps the file as it is",
    sqlite3.SQLITE_FULL: "has no room left on its disk; free some space and enter it again",
    sqlite3.SQLITE_IOERR: "could not be read or written by the disk; check the disk, then enter it again",
}

# After a commit that failed, where the disk does not let it be taken back for sure either.
UNKNOWN = (
    "could not be written by its disk, and nobody can say whether this was recorded; "
    "check the disk, then look in the record before entering it again"
)


@contextmanager
def told_plainly(path: Path) -> Iterator[None]:
    """Turn what SQLite cannot do with this file into a LedgerError; let programming errors through."""
    try:
        yield
    except FileNotFoundError as error:  # the folder that one stands in, where the ledger is named from there
        raise LedgerError(f"the ledger {path} was taken away, or its folder; put it back") from error
    except UnicodeDecodeError as error:  # SQLite repeats damaged text in what it says
        raise LedgerError(f"the ledger {path} {SENTENCES[sqlite3.SQLITE_CORRUPT]}") from error
    except sqlite3.DatabaseError as error:
        sentence = SENTENCES.get(primary_code(error))
        if sentence is None:
            raise
        raise LedgerError(f"the ledger {path} {sentence}") from error


def is_unwritten(error: sqlite3.Error) -> bool:
    """Whether a commit failed before its last page, which makes it one, was written."""
    return getattr(error, "sqlite_errorcode", 0) in (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR_WRITE)


def is_told(error: sqlite3.DatabaseError) -> bool:
    """Whether there is a sentence for what SQLite says."""
    return primary_code(error) in SENTENCES


def primary_code(error: Exception) -> int:
    """The primary result code, 0 where there is none; text that is no text any more counts as damage."""
    if "Could not decode to UTF-8" in str(error):
        return sqlite3.SQLITE_CORRUPT
    code = int(getattr(error, "sqlite_errorcode", 0))
    # what is kept beside the log, also to read, found no room
    return sqlite3.SQLITE_FULL if code == sqlite3.SQLITE_IOERR_SHMSIZE else code & 0xFF
