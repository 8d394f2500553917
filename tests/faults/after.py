"""A ledger before a fault and after it."""

from pathlib import Path

from board.ledger import read, write
from board.ledger.doctor.examine import examine
from board.ledger.open import create_ledger, open_ledger
from tests.faults import acts
from tests.ledger.by_hand import EVENING, ZONE, brisket, plan


def found(path: Path) -> None:
    """A ledger of a house, with a plan of two loads."""
    with create_ledger(path, "Cinder & Rye", ZONE, path.parent) as ledger:
        loads = plan(brisket(), brisket(acts.SHOULDER))
        write.commit_plan(ledger, loads, who="Ada", at=EVENING, noted_at=EVENING)


def goes_on(path: Path) -> list[str]:
    """What keeps the program from opening what is left and taking another entry; what its doctor finds."""
    if not path.exists():
        return []
    try:
        with open_ledger(path) as ledger:
            last = read.data_version(ledger)[1]
            entry = write.note(ledger, "the light is back", who="Max", at=EVENING, noted_at=EVENING)
    except Exception as error:
        return [f"it does not go on: {error!r}"]
    if entry.seq != last + 1:
        return ["the next entry has a wrong number"]
    return [f"board doctor: {fault}" for fault in examine(path).faults]
