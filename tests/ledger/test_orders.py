"""Orders taken and struck, times changed, loads to be split or joined: kept, undone, refused."""

from dataclasses import replace
from datetime import timedelta

import pytest

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.ordering import NewOrder
from board.ledger.state import LoadStage

from .by_hand import DAY, EVENING, LOADED, ZONE
from .test_write import BRISKET, by

NOON = LOADED + timedelta(hours=17)  # of the planned day
SAID = by("Ada", EVENING)
ANN = NewOrder(DAY, "o1", "Ann [b]", NOON, "whole-ham", 2)
BO = replace(ANN, name="Bo", portions=1)


def test_an_order_is_taken_with_its_first_line(planned: Ledger) -> None:
    """Name, time and line come back; undone, neither the order nor its line is left."""
    write.take_order(planned, ANN, **SAID)
    (order,) = read.occasions(planned, DAY)
    assert (order.name, order.at, order.struck) == ("Ann [b]", NOON, False)
    assert read.promises(planned, DAY) == {("o1", "whole-ham"): 2}
    write.undo(planned, **SAID)
    assert (read.occasions(planned, DAY), read.promises(planned, DAY)) == ([], {})


def test_an_order_struck_can_be_taken_back(planned: Ledger) -> None:
    """Struck it stays known as struck; struck twice writes nothing; the undo brings it back."""
    write.take_order(planned, ANN, **SAID)
    first = write.strike_order(planned, DAY, "o1", **SAID)
    assert write.strike_order(planned, DAY, "o1", **SAID).seq == first.seq
    assert [one.struck for one in read.occasions(planned, DAY)] == [True]
    write.undo(planned, **SAID)
    assert [one.struck for one in read.occasions(planned, DAY)] == [False]


def test_a_service_put_at_another_time(planned: Ledger) -> None:
    """The last time counts, the same again writes nothing, another day is refused with what is allowed."""
    write.put_due(planned, DAY, "lunch", NOON, **SAID)
    last = write.put_due(planned, DAY, "lunch", NOON + timedelta(minutes=30), **SAID)
    assert write.put_due(planned, DAY, "lunch", NOON + timedelta(minutes=30), **SAID).seq == last.seq
    assert [one.at for one in read.occasions(planned, DAY)] == [NOON + timedelta(minutes=30)]
    with pytest.raises(LedgerError, match="a time of that day can be promised"):
        write.put_due(planned, DAY, "lunch", NOON + timedelta(days=1), **SAID)


def test_two_orders_of_one_id_are_refused(planned: Ledger) -> None:
    """What somebody ordered is not overwritten by another order; struck, its id is free again."""
    write.take_order(planned, ANN, **SAID)
    with pytest.raises(LedgerError, match="there is an order o1"):
        write.take_order(planned, BO, **SAID)
    write.strike_order(planned, DAY, "o1", **SAID)
    write.take_order(planned, BO, **SAID)
    assert [(one.name, one.struck) for one in read.occasions(planned, DAY)] == [("Bo", False)]


def test_wishes_to_regroup_stand_until_the_next_plan(planned: Ledger) -> None:
    """Split and joined are read in the order said; an undo takes the last; a new plan ends them."""
    write.split_load(planned, DAY, BRISKET, 4, "1209-brisket-2", **SAID)
    write.join_loads(planned, DAY, BRISKET, "1209-brisket-2", **SAID)
    found = [(one.load, one.other, one.pieces) for one in read.regroups(planned, DAY)]
    assert found == [(BRISKET, "1209-brisket-2", 4), (BRISKET, "1209-brisket-2", None)]
    write.undo(planned, **SAID)
    assert [one.pieces for one in read.regroups(planned, DAY)] == [4]
    current = read.current_plan(planned, DAY)
    assert current is not None
    write.commit_plan(planned, current, "as split", **SAID)
    assert read.regroups(planned, DAY) == []


def test_what_has_begun_is_neither_split_nor_joined(planned: Ledger) -> None:
    """Meat on the pit stays one load; no pieces and a load with itself are refused too."""
    for refused, because in (
        (lambda: write.split_load(planned, DAY, BRISKET, 0, "b2", **SAID), "0 pieces cannot be split off"),
        (lambda: write.join_loads(planned, DAY, BRISKET, BRISKET, **SAID), "joined with itself"),
    ):
        with pytest.raises(LedgerError, match=because):
            refused()
    write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    with pytest.raises(LedgerError, match="only a load that has not begun is split or joined"):
        write.split_load(planned, DAY, BRISKET, 4, "b2", **by("Ada", LOADED))


def test_the_day_is_the_house_s_own(planned: Ledger) -> None:
    """A quarter to midnight on the house's clock is still that day, though UTC is a day further."""
    assert ZONE == "America/Denver"
    late = NOON + timedelta(hours=11, minutes=45)
    assert late.date() > DAY
    write.put_due(planned, DAY, "lunch", late, **SAID)
    assert [one.at for one in read.occasions(planned, DAY)] == [late]
