"""Whether a file is a whole ledger, and how far its record goes; found by opening it, not by its name."""

import sqlite3
from collections import deque
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from board.errors import LedgerError
from board.ledger.faults import MENDS, primary_code
from board.ledger.links import ENTRIES, START, Stored, linked
from board.ledger.pieces import pieces
from board.ledger.schema import APPLICATION_ID
from board.ledger.told import told_of


@dataclass(frozen=True, slots=True)
class Reached:
    """How far a record goes: its last entry's number and link, reckoned where a record has no links yet."""

    seq: int
    sha256: str


class DamagedError(LedgerError):
    """A file that is no whole ledger; no other program's doing, nor a lack of rights, that passes."""


# Primary result codes of SQLite, https://www.sqlite.org/rescode.html, that say nothing of what is in the file
_PASSING = {
    sqlite3.SQLITE_BUSY: "is kept busy by another program; wait a moment and try again",
    sqlite3.SQLITE_LOCKED: "is kept busy by another program; wait a moment and try again",
    sqlite3.SQLITE_CANTOPEN: "cannot be opened; allow reading it",
    sqlite3.SQLITE_PERM: "cannot be opened; allow reading it",
    sqlite3.SQLITE_READONLY: "cannot be opened; allow writing to its folder",
}


@contextmanager
def opened_to_read(path: Path) -> Iterator[sqlite3.Connection]:
    """A ledger file opened for reading only, also from a disk that cannot be written.

    Raises:
        LedgerError: it cannot be opened now.
        DamagedError: it cannot be read, or what SQLite finds in it is no database.
    """
    try:
        with closing(_connect(path)) as connection:
            yield connection
    except (sqlite3.DatabaseError, UnicodeDecodeError) as error:
        code = primary_code(error)
        if code in _PASSING:
            raise LedgerError(f"{path} {_PASSING[code]}") from error
        is_none = code == sqlite3.SQLITE_NOTADB
        wrong = (
            "is not a ledger, or its first page is damaged" if is_none else "is damaged, or its disk fails"
        )
        raise DamagedError(f"{path} {wrong}; take another backup, or {MENDS}") from error


def check_sound(path: Path) -> Reached:
    """Go over a whole file as SQLite does, and tell how far its record goes.

    Raises:
        LedgerError: it cannot be opened now.
        DamagedError: it is not a ledger, or is damaged.
    """
    with opened_to_read(path) as connection:
        if connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
            raise DamagedError(f"{path} is not a ledger of this program; name a backup of one")
        if connection.execute("PRAGMA integrity_check(1)").fetchone()[0] != "ok":
            raise DamagedError(f"{path} is damaged, or its disk fails; take another backup")
        _check_links(path, connection)
        return reached(connection)


def _check_links(path: Path, connection: sqlite3.Connection) -> None:
    """Reckon the chain over all entries anew; a ledger from before entries were linked has none."""
    if not connection.execute("SELECT 1 FROM sqlite_schema WHERE name = 'links'").fetchone():
        return
    previous, told = START, told_of(connection)
    for piece in pieces(connection):
        if not (piece.follows(previous) or told.stands(piece)):
            raise DamagedError(
                f"{path} is damaged (entry {piece.entry.seq} was changed); take another backup"
            )
        previous = piece.sha256 or ""


def house_of(path: Path) -> tuple[str, str]:
    """The name and zone of whose ledger a file is; of one that was started without a house, "" and UTC.

    Raises:
        LedgerError: it cannot be read.
    """
    with opened_to_read(path) as connection:
        return house_in(connection)


def house_in(connection: sqlite3.Connection) -> tuple[str, str]:
    """The name and zone of whose ledger is open."""
    row = connection.execute("SELECT name, zone FROM house").fetchone()
    return (str(row[0]), str(row[1])) if row else ("", "UTC")


def reached(connection: sqlite3.Connection) -> Reached:
    """How far the record of an open ledger goes."""
    seq = connection.execute("SELECT coalesce(max(seq), 0) FROM entries").fetchone()[0]
    try:
        row = connection.execute("SELECT sha256 FROM links WHERE seq = ?", (seq,)).fetchone()
        return Reached(seq, row[0] if row else START)
    except sqlite3.OperationalError:  # a ledger from before entries were linked
        links = linked(Stored(*row) for row in connection.execute(ENTRIES))
        return Reached(seq, next((row[1] for row in deque(links, maxlen=1)), START))


def _connect(path: Path) -> sqlite3.Connection:
    """Where nothing may be written beside the file, it is read as one that nobody writes."""
    place = path.absolute().as_uri()
    connection = sqlite3.connect(f"{place}?mode=ro", uri=True, isolation_level=None)
    try:
        connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except sqlite3.OperationalError:
        connection.close()
        if path.with_name(f"{path.name}-wal").exists():
            raise
        connection = sqlite3.connect(f"{place}?mode=ro&immutable=1", uri=True, isolation_level=None)
    return connection
