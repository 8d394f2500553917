"""Whether a damaged ledger is why something went wrong, or the program itself."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from board.errors import LedgerError
from board.ledger.faults import MENDS
from board.ledger.replay import UNFIT


def damage_behind(path: Path, error: BaseException | None) -> LedgerError | None:
    """What to tell instead of an error that damaged data set off; None where the ledger is sound."""
    if not isinstance(error, (*UNFIT, sqlite3.DatabaseError)):
        return None
    from board.ledger.doctor.examine import examine  # noqa: PLC0415 - only where something fell

    try:
        found = examine(path)
    except LedgerError as refused:
        return refused
    if found.sound:
        return None
    return LedgerError(f"the ledger {path} is damaged: {found.faults[0]}; {MENDS}")


@contextmanager
def blaming(path: Path) -> Iterator[None]:
    """Tell of a damaged ledger where it makes the program fall; the program's own errors go through.

    Raises:
        LedgerError: the ledger is damaged.
    """
    try:
        yield
    except Exception as error:
        if found := damage_behind(path, error):
            raise found from error
        raise
