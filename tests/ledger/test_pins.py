"""Pins: a load held to a place in every new plan, until it is let go or has begun."""

from dataclasses import replace

import pytest

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.facts import PinFacts
from board.ledger.open import Ledger
from board.ledger.state import LoadStage

from .by_hand import DAY, EVENING, LOADED
from .test_write import BRISKET, HOUR, by

NORTH = PinFacts(DAY, BRISKET, "north", None, None, LOADED)
SOUTH = PinFacts(DAY, BRISKET, "south", "hot", 121.0, LOADED + HOUR, pieces=4)


def test_a_pin_is_read_as_it_was_set(planned: Ledger) -> None:
    """All of a pin comes back; the last pin of a load counts, and repeating it writes nothing."""
    write.pin_load(planned, NORTH, **by("Ada", EVENING))
    last = write.pin_load(planned, SOUTH, **by("Ada", EVENING))
    again = write.pin_load(planned, SOUTH, **by("Max", EVENING))
    assert (again.seq, again.already) == (last.seq, True)
    assert read.pins(planned, DAY) == [SOUTH]


def test_a_pin_let_go_is_gone_and_can_be_taken_back(planned: Ledger) -> None:
    """Unpinned there is none; the undo of that brings it back; letting go what is not pinned is refused."""
    write.pin_load(planned, NORTH, **by("Ada", EVENING))
    write.unpin_load(planned, DAY, BRISKET, **by("Ada", EVENING))
    assert read.pins(planned, DAY) == []
    with pytest.raises(LedgerError, match="not pinned"):
        write.unpin_load(planned, DAY, BRISKET, **by("Ada", EVENING))
    write.undo(planned, **by("Ada", EVENING))
    assert [pin.load for pin in read.pins(planned, DAY)] == [BRISKET]


def test_a_load_that_has_begun_is_not_pinned(planned: Ledger) -> None:
    """Meat on the pit stays where it is: the pin is refused in a line, and nothing is written."""
    write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    before = read.data_version(planned)
    with pytest.raises(LedgerError, match="only a load that has not begun is pinned"):
        write.pin_load(planned, SOUTH, **by("Ada", LOADED))
    assert read.data_version(planned) == before


def test_a_new_plan_leaves_pins_alone(planned: Ledger) -> None:
    """Committing another plan of the day forgets no pin: the next one is planned around it too."""
    write.pin_load(planned, NORTH, **by("Ada", EVENING))
    current = read.current_plan(planned, DAY)
    assert current is not None
    write.commit_plan(planned, current, "again", **by("Ada", EVENING))
    assert [pin.load for pin in read.pins(planned, DAY)] == [BRISKET]


def test_no_pieces_are_not_pinned(planned: Ledger) -> None:
    """A pin of none of a load is refused in a line, and nothing is written."""
    with pytest.raises(LedgerError, match="0 pieces cannot be pinned; from 1 to 10000 can"):
        write.pin_load(planned, replace(NORTH, pieces=0), **by("Ada", EVENING))
    assert read.pins(planned, DAY) == []
