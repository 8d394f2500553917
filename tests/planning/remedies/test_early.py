"""Where a load that is early can wait, and when its pit may be lowered."""

from dataclasses import replace
from datetime import timedelta

import pytest

from board.cooking.cook import Rest
from board.cooking.resting import core_after_rest
from board.house.model import Hold
from board.house.spans import TimeSpan
from board.planning.remedies import waiting
from board.planning.remedies.advise import advise
from board.planning.remedies.remedy import Action, Advice, CostKind, Kind, Reason, Remedy
from board.planning.remedies.scene import Scene, Stay
from tests.planning.remedies.scenes import NOW, house, on_pit, planned, scene

MINUTE = timedelta(minutes=1)
MEMBERS = 32


def early(**changes: object) -> Scene:
    """Briskets at 80 °C, likely off in two hours and needed five hours after that."""
    usual = {"elapsed": 480.0, "core_c": 80.0, "left": 120.0, "needed": 300.0} | changes
    return scene("brisket", **usual)  # type: ignore[arg-type]


def advice(one: Scene) -> Advice:
    """The advice for a scene that has some."""
    found = advise(one, members=MEMBERS)
    assert found is not None
    assert found.is_early
    return found


def of(found: Advice, kind: Kind) -> Remedy | None:
    """The remedy of a kind, where it is offered."""
    return next((one for one in found.remedies if one.action.kind is kind), None)


def why(found: Advice, kind: Kind) -> set[Reason]:
    """Why a kind is left out."""
    return {one.reason for one in found.left_out if one.kind is kind}


def test_a_hot_hold_with_room_takes_it() -> None:
    """The wait is told, and is no longer than the cut may be held."""
    held = of(advice(early()), Kind.HOLD)
    assert held is not None
    wait = next(cost.minutes for cost in held.costs if cost.kind is CostKind.HELD)
    assert 0 < wait <= house().cuts["brisket"].hold_longest_minutes


@pytest.mark.parametrize(("celsius", "offered"), [(56.0, False), (57.0, True)])
def test_no_hold_under_57_degrees_takes_it(celsius: float, offered: bool) -> None:
    """FDA Food Code 3-501.16: hot food is held at 57 °C (135 °F) or hotter."""
    place = house(holds=(Hold("bench", "bench", 3.0), Hold("hold", "hold", 2.0, celsius)))
    found = advice(early(place=place))
    assert (of(found, Kind.HOLD) is not None) is offered
    assert offered or why(found, Kind.HOLD) == {Reason.NO_HOT_HOLD}


def test_a_full_hold_takes_no_more() -> None:
    """What will stand there while it waits counts, what is gone by then does not."""
    full = Stay("hold", 1.9, NOW, NOW + 900 * MINUTE)
    assert why(advice(early(held=(full,))), Kind.HOLD) == {Reason.NO_ROOM}
    gone = replace(full, end=NOW + 30 * MINUTE)
    assert of(advice(early(held=(gone,))), Kind.HOLD) is not None


def test_nothing_waits_longer_than_its_cut_may_be_held() -> None:
    """Needed a day later, neither hold nor box is offered."""
    found = advice(early(needed=1500.0))
    assert why(found, Kind.HOLD) == {Reason.TOO_LONG}
    assert why(found, Kind.BOX) == {Reason.TOO_LONG}


def test_a_box_is_offered_while_the_core_stays_hot() -> None:
    """Practice has a wrapped brisket fall from 95 to 60 °C in a box in five and a half hours (no source)."""
    cook = early().load.cook
    two, nine = (
        core_after_rest(replace(cook, rest=Rest("cooler", hours * 60.0)), members=MEMBERS) for hours in (2, 9)
    )
    assert two is not None
    assert nine is not None
    assert two.p10 > 70
    assert nine.p10 < 57
    assert of(advice(early(needed=120.0)), Kind.BOX) is not None
    assert why(advice(early(needed=540.0)), Kind.BOX) & {Reason.CORE_TOO_COOL, Reason.TOO_LONG}


def test_a_box_keeps_hot_what_is_pulled_sooner_than_likely() -> None:
    """With a pull that may come hours sooner, the box must bear the longest wait and say so."""
    one = early(needed=240.0)
    sure = nothing_at(one, 0.0)
    unsure = nothing_at(one, 180.0)
    (boxed,), _ = waiting.boxed(one, sure, members=MEMBERS, seed=0)
    found, left = waiting.boxed(one, unsure, members=MEMBERS, seed=0)
    assert left or (found[0].action.core_c or 0.0) < (boxed.action.core_c or 0.0) - 3.0
    long = nothing_at(early(needed=1100.0), 180.0)
    assert waiting.boxed(early(needed=1100.0), long, members=MEMBERS, seed=0)[1][0].reason is Reason.TOO_LONG


def nothing_at(one: Scene, earlier: float) -> Remedy:
    """Doing nothing, ready in two hours and its rest, or so many minutes earlier 1 time in 10."""
    ready = NOW + (120.0 + one.load.after_minutes) * MINUTE
    return Remedy(Action(Kind.NOTHING), TimeSpan(ready - earlier * MINUTE, ready, ready + 30 * MINUTE), 0.99)


def test_the_pit_is_not_lowered_for_what_comes_before_it_is_due() -> None:
    """A load that comes after the likely pull and before the need would meet it, and a cool pit."""
    where = house()
    coming = planned("coming", where.cuts["brisket"], "north", load_at=NOW + 280 * MINUTE,
                     pull_at=NOW + 900 * MINUTE)  # fmt: skip
    found = advice(early(lit={"north": 130.0}, coming=(coming,)))
    assert found.nothing.ready.p90 < coming.load_at
    assert why(found, Kind.LOWER) == {Reason.OTHERS_CANNOT}


def test_the_pit_is_lowered_only_past_the_danger_zone() -> None:
    """A core under 57 °C, or one not read, is not slowed down; nor that of a load beside."""
    lit = {"north": 130.0}
    assert of(advice(early(lit=lit)), Kind.LOWER) is not None
    unread = advice(early(lit=lit, core_c=None, needed=900.0))
    assert why(unread, Kind.LOWER) == {Reason.CORE_TOO_COOL}
    where = house()
    load = planned("raw", where.cuts["brisket"], "north", load_at=NOW - 60 * MINUTE,
                   pull_at=NOW + 700 * MINUTE, needed=600.0)  # fmt: skip
    raw = on_pit(where, load, elapsed=60.0, core_c=20.0)
    assert why(advice(early(lit=lit, beside=(raw,))), Kind.LOWER) == {Reason.CORE_TOO_COOL}


def test_a_lowered_pit_is_no_cooler_than_pit_and_cut_allow_and_still_in_time() -> None:
    """The load waits less, and is in time as surely as the house asks."""
    one = early(lit={"north": 130.0})
    found = advice(one)
    lower = of(found, Kind.LOWER)
    assert lower is not None
    assert lower.action.setpoint_c is not None
    assert lower.action.setpoint_c >= max(one.load.cut.pit_c.low, one.house.pits["north"].setpoint_c[0])
    assert lower.ready.p50 > found.nothing.ready.p50
    assert lower.chance >= one.house.chance


def test_a_pit_is_not_lowered_when_a_load_beside_would_be_late() -> None:
    """Another load with no time to spare forbids it."""
    where = house()
    load = planned("tight", where.cuts["brisket"], "north", load_at=NOW - 480 * MINUTE,
                   pull_at=NOW + 200 * MINUTE, needed=91.0)  # fmt: skip
    tight = on_pit(where, load, elapsed=480.0, core_c=75.0)
    found = advice(early(lit={"north": 130.0}, beside=(tight,), needed=400.0))
    assert Reason.OTHERS_LATE in why(found, Kind.LOWER)


def test_what_was_to_be_early_but_is_late_gets_what_helps_a_late_load() -> None:
    """The ensemble has the last word, not the span it was given."""
    one = scene("brisket", elapsed=120.0, core_c=30.0, left=60.0, needed=120.0)
    found = advise(one, members=MEMBERS)
    assert found is not None
    assert not found.is_early
