"""What other loads, their pits and their setpoints forbid; asked of the rules alone, without the ensemble."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import time, timedelta

import pytest

from board.house.model import PitKind, Recurrence
from board.house.spans import TimeSpan
from board.planning.plan import PlannedLoad
from board.planning.remedies import fire, move, waiting
from board.planning.remedies.candidate import Candidate
from board.planning.remedies.remedy import Action, Kind, LeftOut, Reason, Remedy
from board.planning.remedies.scene import Stay
from tests.planning.remedies.scenes import NOW, house, on_pit, pit, planned, scene

MINUTE = timedelta(minutes=1)
UNTIL = NOW + 400 * MINUTE
LIT = {"north": 118.0, "south": 130.0}


def load(cut: str, on: str, *, begins: float, setpoint: float = 118.0, area: float = 0.4) -> PlannedLoad:
    """A load that goes on so many minutes from now and stays ten hours."""
    at = NOW + begins * MINUTE
    return planned(
        cut, house().cuts[cut], on, load_at=at, pull_at=at + 600 * MINUTE, setpoint=setpoint, area=area
    )


def setpoints(found: Sequence[Candidate]) -> list[float]:
    """The setpoints of some candidates."""
    return [one.action.setpoint_c or 0.0 for one in found]


def reasons(left: Sequence[LeftOut], about: str = "") -> set[Reason]:
    """Why some are left out."""
    return {one.reason for one in left if about in ("", one.about)}


def test_a_pit_is_raised_no_further_than_what_comes_to_it_bears() -> None:
    """Beef ribs bear 140 °C and briskets 135: with briskets to come in an hour, ribs get 135."""
    ribs = scene("beef-ribs")
    assert max(setpoints(fire.raised(ribs, UNTIL)[0])) == 140.0
    coming = replace(ribs, coming=(load("brisket", "north", begins=60.0),))
    assert max(setpoints(fire.raised(coming, UNTIL)[0])) == 135.0
    later = replace(ribs, coming=(load("brisket", "north", begins=500.0),))
    assert max(setpoints(fire.raised(later, UNTIL)[0])) == 140.0


def test_a_pit_is_lowered_no_further_than_what_shares_it_is_cooked_at() -> None:
    """A brisket goes down to 107 °C; with whole turkeys beside it, no cooler than their 121."""
    alone = scene(core_c=80.0, lit={"north": 130.0})
    assert min(setpoints(fire.lowered(alone, UNTIL)[0])) == 107.0
    turkeys = on_pit(house(), load("turkey-whole", "north", begins=-100.0), elapsed=100.0, core_c=65.0)
    shared = replace(alone, beside=(turkeys,))
    assert min(setpoints(fire.lowered(shared, UNTIL)[0])) == 121.0


@pytest.mark.parametrize(("cut", "comes"), [("brisket", "turkey-whole"), ("turkey-whole", "brisket")])
def test_raw_poultry_that_comes_later_counts_as_there(cut: str, comes: str) -> None:
    """A pit that birds, or other meat, come to before the load is done takes none of the other kind."""
    coming = load(comes, "south", begins=60.0, setpoint=130.0)
    found, left = move.moved(scene(cut, lit=LIT, coming=(coming,)), UNTIL)
    assert "south" not in [one.action.pit for one in found]
    assert reasons(left, "south") == {Reason.RAW_POULTRY}


def test_a_pit_out_of_use_meanwhile_takes_nothing() -> None:
    """South is swept at seven: nothing is carried there at 05:40 that stays until noon."""
    swept = Recurrence(NOW.date(), time(7, 0), 60.0)
    closed = pit("south", PitKind.CABINET, out_of_use=(swept,))
    place = house((pit("north", PitKind.OFFSET), closed))
    _, left = move.moved(scene(lit=LIT, place=place), UNTIL)
    assert reasons(left, "south") == {Reason.OUT_OF_USE}


def test_a_pit_that_is_asked_for_another_setpoint_meanwhile_is_no_remedy() -> None:
    """South at 130 °C goes down to 107 for shoulders in an hour: it is hotter only until then."""
    coming = load("pork-shoulder", "south", begins=60.0, setpoint=107.0)
    _, left = move.moved(scene(lit=LIT, coming=(coming,)), UNTIL)
    assert reasons(left, "south") == {Reason.SET_OTHERWISE}


def test_a_pit_that_does_not_take_the_cut_is_not_named() -> None:
    """A pit kept for other cuts is no remedy, whatever it burns at."""
    place = house((pit("north", PitKind.OFFSET), pit("south", PitKind.CABINET, takes=frozenset({"sausage"}))))
    found, left = move.moved(scene(lit=LIT, place=place), UNTIL)
    assert found == []
    assert left == [LeftOut(Kind.MOVE, Reason.NO_HOTTER_PIT)]


def ready_soon() -> Remedy:
    """The load ready in two hours, as sure as can be."""
    ready = NOW + 120 * MINUTE
    return Remedy(Action(Kind.NOTHING), TimeSpan(ready, ready, ready), 1.0)


def test_a_hold_that_fills_while_it_waits_has_no_room() -> None:
    """Empty when the briskets come to it at two hours, full at four: they are needed at five."""
    one = scene(left=120.0, needed=180.0)
    assert waiting.held(one, ready_soon())[0]
    later = Stay("hold", 1.9, NOW + 240 * MINUTE, NOW + 600 * MINUTE)
    found, left = waiting.held(replace(one, held=(later,)), ready_soon())
    assert found == []
    assert reasons(left) == {Reason.NO_ROOM}


def test_what_is_pulled_under_57_degrees_is_held_in_no_hot_hold() -> None:
    """FDA Food Code 3-501.16: a rib roast at 55 °C is not hot-held; no hold brings it there."""
    roast = scene("beef-rib-roast", left=120.0, needed=60.0)
    assert reasons(waiting.held(roast, ready_soon())[1]) == {Reason.NO_HOT_HOLD}
