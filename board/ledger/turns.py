"""Waiting for one's turn to write: all who wait ask equally often, however long they have waited.

SQLite's own waiting asks ever more rarely, up to a tenth of a second apart, and those who just came overtake:
of eight hands that write without a pause one waits 3.8 s for a turn of 4 ms (tests/faults/hands.py).
"""

import sqlite3
from time import monotonic, sleep

from board.ledger.faults import primary_code
from board.ledger.lean import Database

PAUSE_SECONDS = 0.001  # between two times of asking


def begin(db: Database, patience_seconds: float) -> None:
    """Begin a transaction that writes as soon as nobody else has one.

    Raises:
        sqlite3.OperationalError: busy for as long as that, or it cannot be written.
    """
    be_patient(db, 0.0)
    try:
        until = monotonic() + patience_seconds
        while monotonic() < until:  # a busy machine makes each pause longer than was asked
            if _is_begun(db):
                return
            sleep(PAUSE_SECONDS)
        db.execute("BEGIN IMMEDIATE")
    finally:
        be_patient(db, patience_seconds)


def be_patient(db: Database, seconds: float) -> None:
    """Have SQLite itself wait so long where somebody else is in the way."""
    db.execute(f"PRAGMA busy_timeout = {round(1_000 * seconds)}")


def _is_begun(db: Database) -> bool:
    try:
        db.execute("BEGIN IMMEDIATE")
    except sqlite3.OperationalError as error:
        if primary_code(error) != sqlite3.SQLITE_BUSY:
            raise
        return False
    return True
