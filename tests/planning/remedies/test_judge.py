"""What a remedy leads to: its time, its chance, and what of it is certain."""

from dataclasses import replace
from datetime import timedelta

import pytest

from board.house.model import RecipeKind, StepRule, Work
from board.house.spans import TimeSpan
from board.planning.remedies import fire, meat, serving
from board.planning.remedies.again import may_still
from board.planning.remedies.candidate import nothing
from board.planning.remedies.chance import chance_by
from board.planning.remedies.judge import judged
from board.planning.remedies.remedy import Action, Kind, LeftOut, Reason, Remedy
from board.planning.remedies.safe import least_pull_c
from board.planning.remedies.scene import Scene, Supply
from tests.planning.remedies.scenes import NOW, house, on_pit, planned, scene

MINUTE = timedelta(minutes=1)


def doing_nothing(one: Scene) -> Remedy:
    """A scene left as it is, by a small ensemble."""
    return judged(one, [nothing(one)], members=32, seed=0)[0][1]


def test_a_rest_is_no_time_gained() -> None:
    """Due at its likely ready time, a load is in time about half the time: its rest comes before the need."""
    one = scene()
    likely = doing_nothing(one).ready.p50
    due = replace(one, load=replace(one.load, due=likely))
    assert doing_nothing(due).chance == pytest.approx(0.5, abs=0.02)
    by_pull = replace(one, load=replace(one.load, due=likely - one.load.after_minutes * MINUTE))
    assert doing_nothing(by_pull).chance < 0.45


def test_what_has_not_happened_is_not_in_the_past() -> None:
    """Read at its pull an hour ago and still on, it is pulled no sooner than now."""
    one = scene("pork-loin", elapsed=240.0, core_c=50.0)
    on = replace(one.load, taken=((150.0, 55.0), (180.0, one.load.cook.until_core_c + 1.0)))
    found = doing_nothing(replace(one, load=on))
    assert found.ready.p10 == NOW + on.after_minutes * MINUTE


def test_hands_and_minutes_at_its_core_are_counted() -> None:
    """A wrap is on when the hands are done; a ham pulled at 57 °C is off 56 minutes after it is there."""
    one = scene()
    (wrap,), _ = meat.wrapped(one)
    wrap_minute = wrap.cook.wrap_minute
    assert wrap_minute == one.elapsed + wrap.costs[0].minutes > one.elapsed
    ham = scene("ham-bone-in", elapsed=240.0, core_c=45.0, lit={"north": 121.0})
    (low,), _ = meat.pulled_lower(ham)
    assert low.after_minutes == nothing(ham).after_minutes + 56.0


def test_no_pull_is_cooler_than_what_is_then_held_hot() -> None:
    """The roast chart begins at 54.4 °C; what is then held hot is held at 57 °C (FDA Food Code 3-501.16)."""
    roast = scene("beef-round-roast", elapsed=200.0, core_c=45.0, lit={"north": 180.0})
    cook = replace(roast.load.cook, cut=replace(roast.load.cut, pull_least_c=54.5), until_core_c=62.0)
    (found,), _ = meat.pulled_lower(replace(roast, load=replace(roast.load, cook=cook)))
    assert found.action.core_c == 57.0


def test_a_load_beside_is_in_time_when_it_is_nine_times_in_ten() -> None:
    """Ten minutes later is too late for one whose 9 in 10 has no more than five to spare."""
    where = house()
    beside = on_pit(
        where,
        planned("beside", where.cuts["brisket"], "north", load_at=NOW - 480 * MINUTE,
                pull_at=NOW + 200 * MINUTE, needed=95.0, rest=60.0),
        elapsed=480.0, core_c=75.0,
    )  # fmt: skip
    one = scene(core_c=80.0, beside=(beside,))
    assert fire.others_shifted(one, Kind.LOWER, {"beside": -4.0})[1] is None
    late = fire.others_shifted(one, Kind.LOWER, {"beside": -10.0})[1]
    assert late == LeftOut(Kind.LOWER, Reason.OTHERS_LATE, "beside")


def sure_to(minutes: float) -> TimeSpan:
    """Ready in so many minutes, a quarter of an hour each way."""
    at = NOW + minutes * MINUTE
    return TimeSpan(at - 15 * MINUTE, at, at + 15 * MINUTE)


def test_two_loads_are_both_in_time_by_the_luck_of_each() -> None:
    """Where each is in time half the time, both are a quarter of it."""
    one = scene(left=200.0)
    there = planned("there", one.load.cut, "south", load_at=NOW - 500 * MINUTE, pull_at=NOW)
    due = one.load.minutes(one.load.due) - one.elapsed
    other = Supply(there, sure_to(due), NOW + (due + 300.0) * MINUTE, 40)
    (found,), _ = serving.served_first(
        replace(one, supplies=(other,)), Remedy(Action(Kind.NOTHING), sure_to(due + 300.0), 0.0)
    )
    assert chance_by(other.ready, one.load.due, NOW) == pytest.approx(0.5, abs=0.02)
    assert found.chance == pytest.approx(0.25, abs=0.02)


@pytest.mark.parametrize(
    ("celsius", "core_c", "may"),
    [(107.0, 80.0, True), (100.0, 80.0, False), (107.0, 50.0, False)],
)
def test_a_pit_may_still_be_lowered_only_as_far_as_now(celsius: float, core_c: float, may: bool) -> None:
    """Under what the cut is cooked at, or with a core not past 57 °C, the choice no longer fits."""
    one = scene(core_c=core_c, lit={"north": 130.0})
    assert may_still(one, Action(Kind.LOWER, "north", celsius)) is may


@pytest.mark.parametrize(("setpoint_c", "may"), [(121.0, True), (118.0, False)])
def test_a_rest_may_still_be_cut_only_while_it_cooks_nothing(setpoint_c: float, may: bool) -> None:
    """A ham of 8 kg at 60 °C is cooked in 12 minutes by the chart; in a pit gone under 121 °C by none."""
    ham = scene("ham-bone-in", elapsed=240.0, core_c=45.0, lit={"north": setpoint_c})
    long = replace(ham.load, load=replace(ham.load.load, rest_minutes=45.0))
    assert may_still(replace(ham, load=long), Action(Kind.SHORTER_REST)) is may


def test_a_ham_cured_in_the_house_is_raw() -> None:
    """A bought ham may be pulled at 57 °C; one cured here at no less than 63."""
    ham = scene("ham-bone-in", lit={"north": 121.0})
    recipe = next(iter(ham.house.recipes.values()))
    cure = replace(recipe, id="cure", kind=RecipeKind.CURE)
    place = replace(ham.house, recipes={**ham.house.recipes, "cure": cure})
    cut = replace(ham.load.cut, prep=(StepRule("cure", Work(5.0), (0.0, 60.0), "cure"),))
    assert least_pull_c(place, ham.load.cut) == 57.0
    assert least_pull_c(place, cut) == 63.0
