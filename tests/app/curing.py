"""A board on the Saturday a ham cure is due, its clock stopped at noon."""

from pathlib import Path

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.session import Session
from board.ledger import write
from board.ledger.open import Ledger, create_ledger
from board.sheets.labels import labels_pdf
from tests.app.advice import advised, helped
from tests.app.boards import looked, no_planner, revised
from tests.app.house_fixture import ZONE, at
from tests.views.cure_fixture import curing_house, tuesday

NOON = at("12:00")


def curing_ledger(path: Path) -> Ledger:
    """A ledger with Tuesday committed, whose hams wait for the cure."""
    ledger = create_ledger(path, curing_house().name, ZONE, path.parent)
    write.commit_plan(ledger, tuesday(), "as promised", who="odile", at=at("09:00"), noted_at=at("09:00"))
    return ledger


def curing_board(ledger: Ledger, who: str = "wren", curing_salt_kg: float = 0.3) -> BoardApp:
    """The application with Wren at the keys."""
    session = Session(
        ledger,
        curing_house(curing_salt_kg),
        StoppedClock(NOON),
        no_planner,
        revised,
        who,
        looker=looked,
        adviser=advised,
        helper=helped,
        label_printer=labels_pdf,
    )
    return BoardApp(session)
