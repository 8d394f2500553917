"""A small ledger of an evening, and a hand that changes it behind the program's back."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path

from board.ledger import write
from board.ledger.checking import Right
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import LoadStage

from ..by_hand import DAY, EVENING, LOADED, ZONE, plan

BRISKET = "1209-brisket-1"
RECORD = ("entries", "plans", "links")


def make_evening(path: Path) -> Path:
    """Twelve entries: a plan, a fire, readings, a mark, a note, an undo, a correction, a signature."""
    with create_ledger(path, "Cinder & Rye", ZONE, path.parent) as ledger:
        at = EVENING - timedelta(hours=5)
        write.commit_plan(ledger, plan(), who="Ada", at=at, noted_at=at)
        _evening(ledger)
    return path


def _evening(ledger: Ledger) -> None:
    said = {"who": "Ines", "at": LOADED, "noted_at": LOADED}
    write.light(ledger, "north", 118.0, who="Ada", at=EVENING, noted_at=EVENING)
    for celsius in (109.5, 117.0, 131.0):
        write.take_reading(ledger, celsius, place="north", **said)
    write.mark_load(ledger, BRISKET, LoadStage.ON, **said)
    write.note(ledger, "the little door sticks", **said)
    write.correct(ledger, 4, Right(118.5, None, "read wrong"), **said)
    write.undo(ledger, 5, **said)
    write.sign(ledger, EVENING, LOADED + timedelta(minutes=1), **said)
    add_reading(ledger, 1)
    write.set_promise(ledger, DAY, "lunch", "sliced-brisket", 90, **said)


def add_reading(ledger: Ledger, minutes: int) -> None:
    """One more reading of the pit, some minutes after the loading."""
    at = LOADED + timedelta(minutes=minutes)
    write.take_reading(ledger, 118.0, place="north", who="Ines", at=at, noted_at=at)


@contextmanager
def tampering(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection to which no trigger says no; the triggers are there again afterwards."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        guards = db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in guards:
            db.execute(f"DROP TRIGGER {name}")
        yield db
        for _, sql in guards:
            db.execute(sql)
