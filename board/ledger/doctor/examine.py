"""All looks at one ledger, in one order, from one moment of it."""

import re
import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from functools import partial
from pathlib import Path

from board.errors import LedgerError
from board.ledger.backups.catalogue import backups_in, folder_of
from board.ledger.backups.named import Backup
from board.ledger.doctor.backups import look_at_backups
from board.ledger.doctor.clocks import look_at_clocks
from board.ledger.doctor.file import look_at_file, look_at_permissions, look_at_references
from board.ledger.doctor.finding import PRINTED, RECORD, Findings, Look, some
from board.ledger.doctor.house import look_at_house
from board.ledger.doctor.naming import naming_of
from board.ledger.doctor.printed import Printed, look_at_printed
from board.ledger.doctor.raw import BROKEN, looking
from board.ledger.doctor.record import look_at_plans, look_at_record
from board.ledger.doctor.shape import look_at_shape
from board.ledger.doctor.signatures import look_at_signatures
from board.ledger.doctor.state import look_at_state
from board.ledger.faults import SENTENCES, primary_code
from board.ledger.open import Ledger, open_ledger
from board.ledger.replay import UNFIT
from board.ledger.schema import APPLICATION_ID, check_not_newer
from board.ledger.told import told_of

MIGRATION = re.compile(r"\d{4} [a-z]")  # how the name of one begins


def examine(path: Path, pages: Sequence[Printed] = ()) -> Findings:
    """Look at everything in a ledger; that of an older program is brought up to date first.

    Args:
        path: the ledger.
        pages: heads of its chain that stand on printed pages.

    Raises:
        LedgerError: there is no such file, it is no ledger, a newer program's, or no room is left to look.
    """
    if not path.is_file():
        raise LedgerError(f"there is no ledger {path}; name it with --ledger")
    looks = [look_at_permissions(path)]
    try:
        with looking(path) as connection:
            _check_is_ledger(path, connection)
            looks.append(look_at_file(connection))
            _check_not_newer(path, connection)
        if not looks[-1].faults:
            with suppress(LedgerError):  # else it is looked at as it is
                open_ledger(path).close()
        backups = backups_in(folder_of(path))
        with looking(path) as connection, scratch(path) as again:
            looks += _content(path, backups, connection, again, pages)
    except BROKEN as error:
        if primary_code(error) == sqlite3.SQLITE_FULL:  # which says nothing of the ledger
            raise LedgerError(f"the ledger {path} {SENTENCES[sqlite3.SQLITE_FULL]}") from error
        looks.append(
            Look("the file", "what can be read of it", some([f"nothing in it can be read: {error}"]))
        )
    return Findings(path, tuple(looks))


@contextmanager
def scratch(path: Path) -> Iterator[Ledger]:
    """An empty ledger for a while, in which nothing is slowed by being kept."""
    with (
        tempfile.TemporaryDirectory(prefix="board-doctor-") as folder,
        closing(open_ledger(Path(folder) / path.name, create=True)) as again,
    ):
        for setting in ("synchronous = OFF", "foreign_keys = OFF"):
            again.db.execute(f"PRAGMA {setting}")
        yield again


def _check_is_ledger(path: Path, connection: sqlite3.Connection) -> None:
    """A file that bears a ledger's mark, or lies beside a ledger's backups, is one, however damaged.

    Raises:
        LedgerError: it is none.
        sqlite3.DatabaseError: it is one that cannot be read.
    """
    try:
        _check_mark(connection)
    except sqlite3.DatabaseError:
        if not (_is_marked(path) or backups_in(folder_of(path))):
            raise LedgerError(f"{path} is not a ledger of this program; name the ledger file") from None
        raise


def _check_mark(connection: sqlite3.Connection) -> None:
    if connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        raise sqlite3.DatabaseError("its first page is not a ledger's")


def _check_not_newer(path: Path, connection: sqlite3.Connection) -> None:
    applied = (str(name) for (name,) in connection.execute("SELECT name FROM _sqlite_migrations"))
    readable = (name for name in applied if MIGRATION.match(name))  # what is none was damaged
    check_not_newer(f"the ledger {path}", readable)


def _is_marked(path: Path) -> bool:
    """Whether a file bears a ledger's mark, at byte 68 of a database (sqlite.org/fileformat.html, 1.3).

    Only for a file that SQLite cannot read: to close it gives up this process's locks on it
    (sqlite.org/howtocorrupt.html, 2.2).
    """
    with path.open("rb") as file:
        return file.read(72)[68:] == APPLICATION_ID.to_bytes(4, "big")


def _content(
    path: Path,
    backups: Sequence[Backup],
    connection: sqlite3.Connection,
    again: Ledger,
    pages: Sequence[Printed],
) -> Iterator[Look]:
    told, house = told_of(connection), naming_of(path, connection)
    looks: tuple[tuple[str, Callable[[], Look]], ...] = (
        ("references", lambda: look_at_references(connection, told)),
        ("tables", lambda: look_at_shape(connection)),
        ("the house", lambda: look_at_house(path, connection)),
        (RECORD, lambda: look_at_record(connection, told, house)),
        ("plans", lambda: look_at_plans(connection, told, house)),
        ("the state", lambda: look_at_state(connection, again, house)),
        ("signatures", lambda: look_at_signatures(again, told, house)),
        ("backups", lambda: look_at_backups(backups, connection, told)),
        ("clocks", lambda: look_at_clocks(connection)),
        *((PRINTED, partial(look_at_printed, connection, page)) for page in pages),
    )
    for what, look in looks:
        try:
            yield look()
        except (*BROKEN, *UNFIT, LedgerError) as error:
            yield Look(
                what, "what can be read of it", some([f"{what} cannot be followed to the end: {error}"])
            )
