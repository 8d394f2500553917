"""What helps a load that runs late: by how much, and at what cost."""

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import numpy as np
import pytest

from board.cooking.estimate import estimate
from board.house.model import StepRule, Work
from board.house.spans import TimeSpan
from board.planning.remedies import altered, meat
from board.planning.remedies.advise import advise
from board.planning.remedies.remedy import Advice, CostKind, Kind, Reason, Remedy
from board.planning.remedies.scene import OnPit, Scene, Supply
from tests.planning.remedies.scenes import NOW, house, on_pit, planned, scene

MINUTE = timedelta(minutes=1)
MEMBERS = 32


def advice(one: Scene) -> Advice:
    """The advice for a scene that is late."""
    found = advise(one, members=MEMBERS)
    assert found is not None
    assert not found.is_early
    return found


def of(found: Advice, kind: Kind, pit: str = "") -> Remedy:
    """The remedy of a kind that goes furthest."""
    kinds = [one for one in found.remedies if one.action.kind is kind and pit in ("", one.action.pit)]
    return max(kinds, key=lambda one: one.action.setpoint_c or 0.0)


def sooner(found: Advice, one: Remedy) -> float:
    """Minutes by which a remedy is likely ready before doing nothing."""
    return (found.nothing.ready.p50 - one.ready.p50) / MINUTE


def costs(one: Remedy) -> set[CostKind]:
    """The kinds of a remedy's costs."""
    return {cost.kind for cost in one.costs}


def why(found: Advice, kind: Kind) -> set[Reason]:
    """Why a kind is left out."""
    return {one.reason for one in found.left_out if one.kind is kind}


def five_hours_on(id: str, cut: str, *, left: float, needed: float, core_c: float) -> OnPit:
    """A load five hours on North, to be pulled in `left` minutes and needed `needed` after that."""
    where = house()
    began, pulled = NOW - 300 * MINUTE, NOW + left * MINUTE
    load = planned(id, where.cuts[cut], "north", load_at=began, pull_at=pulled, needed=needed)
    return on_pit(where, load, elapsed=300.0, core_c=core_c)


@pytest.fixture(scope="module")
def brisket() -> Advice:
    """Briskets five hours on at 118 °C, their core at 62 °C, needed too soon."""
    return advice(scene())


def test_an_overdue_wrap_saves_an_hour_or_more() -> None:
    """Practice has a wrap save one to four hours of a brisket left open (common practice, no source)."""
    late = scene(elapsed=420.0, core_c=66.0)
    open_still = replace(late.load, cook=altered.wrapped_at(late.load.cook, altered.NEVER))
    found = advice(replace(late, load=open_still))
    assert 60 < sooner(found, of(found, Kind.WRAP)) < 240


def test_a_wrap_sooner_than_usual_still_helps(brisket: Advice) -> None:
    """Wrapped at 62 °C instead of the usual core it is done sooner, at the cost of some bark."""
    wrap = of(brisket, Kind.WRAP)
    assert sooner(brisket, wrap) > 15
    assert CostKind.SOFTER_BARK in costs(wrap)


def test_a_hotter_pit_saves_less_than_its_share(brisket: Advice) -> None:
    """From 118 to 135 °C the gap to a core of 90 °C grows from 28 to 45 K: at most that much faster."""
    raised = of(brisket, Kind.RAISE)
    left = (brisket.nothing.ready.p50 - NOW) / MINUTE
    assert raised.action.setpoint_c == 135.0
    assert 15 < sooner(brisket, raised) < left * (1 - 28 / 45)


def test_both_together_save_more_than_either(brisket: Advice) -> None:
    """Raised and wrapped is sooner than raised and than wrapped."""
    both = of(brisket, Kind.RAISE_AND_WRAP)
    assert both.ready.p50 < of(brisket, Kind.WRAP).ready.p50
    assert both.ready.p50 < of(brisket, Kind.RAISE).ready.p50


def test_half_the_heat_helps_by_about_half(brisket: Advice) -> None:
    """The smaller step lies between doing nothing and the whole."""
    steps = [one for one in brisket.remedies if one.action.kind is Kind.RAISE]
    whole, half = sorted(steps, key=lambda one: -(one.action.setpoint_c or 0.0))
    assert 0.3 < sooner(brisket, half) / sooner(brisket, whole) < 0.75


def test_the_best_comes_first(brisket: Advice) -> None:
    """Chances never rise by more than those taken as alike down the list."""
    chances = [one.chance for one in brisket.remedies]
    assert all(later <= before + 0.051 for before, later in pairwise(chances))


def test_doing_something_is_told_from_doing_nothing_by_physics_alone() -> None:
    """Member by member a hotter pit and a wrap are sooner, and the core is the same up to now."""
    load = scene().load
    now = 300.0
    cooks = [
        load.cook,
        altered.set_to(load.cook, now, 118.0, 135.0),
        altered.wrapped_at(load.cook, now),
    ]
    nothing, raised, wrapped = estimate(cooks, members=48, curves=True)
    on = nothing.member_minutes > now + 60.0
    assert (raised.member_minutes[on] < nothing.member_minutes[on]).all()
    early = nothing.wrap_minutes is not None and nothing.wrap_minutes.p10 > now
    assert early, "the scene is meant to be before the usual wrap"
    assert np.percentile(wrapped.member_minutes - nothing.member_minutes, 90) < 0
    assert nothing.paths is not None
    assert raised.paths is not None
    until = int(now / 2.0)
    apart = abs(raised.paths.core[:, :until] - nothing.paths.core[:, :until])
    # other steps of the solver, not other physics: well under what a probe tells
    assert np.nanmax(apart) < 0.1


def test_the_answer_is_the_same_each_time() -> None:
    """Same scene, members and seed: the same advice."""
    assert advise(scene(), members=32) == advise(scene(), members=32)


def test_without_a_reading_it_counts_that_nothing_is_done_yet() -> None:
    """A load that should be done by now is likely done soon, not in the past."""
    late = scene("pork-loin", elapsed=200.0, core_c=None, left=5.0, needed=-30.0)
    found = advice(late)
    assert found.nothing.ready.p10 >= NOW + late.load.load.rest_minutes * MINUTE


def test_a_wrapped_load_is_not_wrapped_again() -> None:
    """Nor one whose cut is never wrapped, nor one whose core is not known or hardly warm."""
    wrapped = scene(left=200.0)
    on = replace(wrapped.load, is_wrapped=True, cook=altered.wrapped_at(wrapped.load.cook, 250.0))
    assert why(advice(replace(wrapped, load=on)), Kind.WRAP) == {Reason.ALREADY_WRAPPED}
    assert why(advice(scene("ham-bone-in", core_c=40.0, left=10.0)), Kind.WRAP) == {Reason.NEVER_WRAPPED}
    assert why(advice(scene(core_c=None, left=10.0)), Kind.WRAP) == {Reason.CORE_UNKNOWN}
    assert why(advice(scene(elapsed=90.0, core_c=15.0, left=10.0)), Kind.WRAP) == {Reason.TOO_SOON}


def test_a_hotter_pit_tells_what_it_does_to_the_load_beside() -> None:
    """Shoulders on the same pit are done sooner, and the advice says by how much."""
    beside = five_hours_on("beside", "pork-shoulder", left=300.0, needed=400.0, core_c=66.0)
    raised = of(advice(scene(beside=(beside,))), Kind.RAISE)
    shift = next(cost for cost in raised.costs if cost.kind is CostKind.OTHER_EARLIER)
    assert shift.load == "beside"
    assert 10 < shift.minutes < 150


def test_a_pit_is_not_raised_over_a_load_that_would_wait_too_long() -> None:
    """Ribs that are held six hours at most and are due in twelve forbid it."""
    beside = five_hours_on("ribs", "beef-ribs", left=200.0, needed=720.0, core_c=80.0)
    assert Reason.OTHER_OVERHELD in why(advice(scene(beside=(beside,))), Kind.RAISE)


def test_a_load_moves_to_a_hotter_pit_with_room() -> None:
    """South at 130 °C takes it, which is sooner; a small pit, or one no hotter, does not."""
    found = advice(scene(lit={"north": 118.0, "south": 130.0, "alcove": 116.0}))
    moved = of(found, Kind.MOVE, "south")
    assert sooner(found, moved) > 10
    assert CostKind.HANDS in costs(moved)
    left = {(one.about, one.reason) for one in found.left_out if one.kind is Kind.MOVE}
    assert ("alcove", Reason.NO_HOTTER_PIT) in left


def test_a_pit_that_must_be_lit_first_helps_later() -> None:
    """The same pit lit already is sooner than one that must warm for an hour."""
    lit = of(advice(scene(lit={"north": 118.0, "south": 135.0})), Kind.MOVE, "south")
    unlit = of(advice(scene()), Kind.MOVE, "south")
    assert unlit.action.is_unlit
    assert CostKind.FIRE in costs(unlit)
    assert lit.ready.p50 < unlit.ready.p50


def test_a_full_pit_takes_no_more() -> None:
    """What stands on it and what comes to it before the load is done both count."""
    where = house()
    full = on_pit(
        where,
        planned("full", where.cuts["brisket"], "south", load_at=NOW - 60 * MINUTE,
                pull_at=NOW + 600 * MINUTE, area=2.2),
        elapsed=60.0, core_c=20.0,
    )  # fmt: skip
    lit = {"north": 118.0, "south": 130.0}
    assert Reason.NO_ROOM in why(advice(scene(beside=(full,), lit=lit)), Kind.MOVE)
    coming = replace(full.load, load_at=NOW + 60 * MINUTE, setpoint_c=130.0)
    assert Reason.NO_ROOM in why(advice(scene(coming=(coming,), lit=lit)), Kind.MOVE)


def test_raw_poultry_and_other_meat_are_not_brought_together() -> None:
    """A turkey does not go where briskets cook, nor briskets where turkeys do."""
    where, lit = house(), {"north": 118.0, "south": 130.0}

    def on_south(cut: str) -> tuple[object, ...]:
        load = planned("there", where.cuts[cut], "south", load_at=NOW - 60 * MINUTE,
                       pull_at=NOW + 200 * MINUTE, area=0.4)  # fmt: skip
        return (on_pit(where, load, elapsed=60.0, core_c=20.0),)

    beside = on_south("brisket")
    turkey = advice(scene("turkey-whole", elapsed=60.0, core_c=25.0, left=10.0, lit=lit, beside=beside))
    assert Reason.RAW_POULTRY in why(turkey, Kind.MOVE)
    brisket = advice(scene(lit=lit, beside=on_south("turkey-whole")))
    assert Reason.RAW_POULTRY in why(brisket, Kind.MOVE)


def test_an_earlier_pull_is_at_the_low_end_and_no_lower_than_safe() -> None:
    """A whole turkey pulled at 75 °C may come off at 74; a breast's 71 is under its rule."""
    found = advice(scene("turkey-whole", elapsed=150.0, core_c=55.0, left=60.0))
    low = of(found, Kind.PULL_LOWER)
    assert low.action.core_c == pytest.approx(74.0)
    assert CostKind.NO_MARGIN in costs(low)
    breast = advice(scene("turkey-breast", elapsed=90.0, core_c=50.0, left=60.0))
    assert why(breast, Kind.PULL_LOWER) == {Reason.NOT_SAFE}


def test_a_roast_pulled_cooler_stays_on_as_long_as_its_core_needs() -> None:
    """A ham at 57 °C is safe after 56 minutes there (FDA Food Code 3-401.11(B)): they count."""
    found = advice(scene("ham-bone-in", elapsed=240.0, core_c=45.0, left=120.0, lit={"north": 121.0}))
    offered = [one for one in found.remedies if one.action.kind is Kind.PULL_LOWER]
    for one in offered:
        assert next(cost.minutes for cost in one.costs if cost.kind is CostKind.WAIT_AT_CORE) >= 36
    assert offered or why(found, Kind.PULL_LOWER) == {Reason.NO_HELP}


def test_no_roast_counts_on_the_chart_in_a_pit_too_cool_for_it() -> None:
    """3-401.11(B)(1): 121 °C for a piece of 4.5 kg, 177 °C for a lighter one; else it is cooked to 63 °C."""
    ham = scene("ham-bone-in", elapsed=240.0, core_c=45.0, lit={"north": 120.0})
    assert meat.pulled_lower(ham)[1][0].reason is Reason.NOT_SAFE
    (hot,), _ = meat.pulled_lower(replace(ham, lit={"north": 121.0}))
    assert hot.action.core_c == 57.0
    loin = scene("pork-loin", elapsed=90.0, core_c=45.0, lit={"north": 150.0})
    assert meat.pulled_lower(loin)[1][0].reason is Reason.NOT_SAFE
    shoulder = scene("pork-shoulder-boned", elapsed=90.0, core_c=45.0, lit={"north": 118.0})
    assert meat.pulled_lower(shoulder)[0][0].action.core_c == pytest.approx(63.0)


@pytest.mark.parametrize("what", ["inject", "pump with brine", "needle", "tenderise with blades", "pierce"])
def test_meat_with_its_surface_driven_in_is_no_roast(what: str) -> None:
    """FDA Food Code 1-201.10, 3-401.11(A)(2): the house pulls such a loin at no less than 68 °C."""
    loin = scene("pork-loin", elapsed=90.0, core_c=45.0, lit={"north": 150.0})
    step = StepRule(what, Work(5.0, 1.0), (0.0, 60.0))
    cut = replace(loin.load.cut, prep=(step,), pull_least_c=60.0)
    cook = replace(loin.load.cook, cut=cut, until_core_c=72.0)
    (found,), _ = meat.pulled_lower(replace(loin, load=replace(loin.load, cook=cook)))
    assert found.action.core_c == 68.0


def test_the_wait_is_that_of_the_degree_shown() -> None:
    """57.4 °C is shown as 57°, where a ham must stay 56 minutes, not the 36 of 57.2 °C."""
    ham = scene("ham-bone-in", elapsed=240.0, core_c=45.0, lit={"north": 121.0})
    cook = replace(ham.load.cook, cut=replace(ham.load.cut, pull_least_c=57.4))
    (found,), _ = meat.pulled_lower(replace(ham, load=replace(ham.load, cook=cook)))
    assert next(cost.minutes for cost in found.costs if cost.kind is CostKind.WAIT_AT_CORE) == 56.0


@pytest.mark.parametrize("setpoint_c", [118.0, 121.0])
def test_a_rest_that_cooks_it_safe_is_not_cut(setpoint_c: float) -> None:
    """A rib roast pulled at 55 °C needs 89 minutes there: its rest is no waste of time."""
    roast = scene("beef-rib-roast", elapsed=200.0, core_c=45.0, lit={"north": setpoint_c})
    long = replace(roast.load, load=replace(roast.load.load, rest_minutes=60.0))
    found, left = meat.rested_less(replace(roast, load=long))
    assert found == []
    assert [one.reason for one in left] == [Reason.NOT_SAFE]


def test_a_pit_that_must_go_back_helps_only_until_then() -> None:
    """Set back for shoulders in an hour, a hotter pit helps less; for some overdue already, not at all."""
    where = house()
    free = of(advice(scene()), Kind.RAISE)
    soon = planned("soon", where.cuts["pork-shoulder"], "north", load_at=NOW + 60 * MINUTE,
                   pull_at=NOW + 700 * MINUTE)  # fmt: skip
    found = advice(scene(coming=(soon,)))
    back = of(found, Kind.RAISE)
    assert CostKind.BACK in costs(back)
    assert back.ready.p50 > free.ready.p50 + 15 * MINUTE
    overdue = replace(soon, load_at=NOW - 10 * MINUTE)
    assert why(advice(scene(coming=(overdue,))), Kind.RAISE) == {Reason.NO_HELP}


def test_what_is_overdue_stays_on_its_pit_as_long_as_it_was_to() -> None:
    """A load to come three hours ago is still there when another comes, and both fill the pit."""
    where, lit = house(), {"north": 118.0, "south": 130.0}
    overdue = planned("overdue", where.cuts["brisket"], "south", load_at=NOW - 180 * MINUTE,
                      pull_at=NOW + 30 * MINUTE, area=1.2, setpoint=130.0)  # fmt: skip
    then = planned("then", where.cuts["brisket"], "south", load_at=NOW + 120 * MINUTE,
                   pull_at=NOW + 700 * MINUTE, area=1.0, setpoint=130.0)  # fmt: skip
    assert Reason.NO_ROOM in why(advice(scene(coming=(overdue, then), lit=lit)), Kind.MOVE)
    assert of(advice(scene(coming=(then,), lit=lit)), Kind.MOVE, "south")


def test_a_shorter_rest_is_sooner_by_what_is_left_off() -> None:
    """Two hours of rest cut to the cut's least are sooner by the difference, whatever the cook does."""
    long = scene()
    pull = long.load.load.pull_at
    ready = TimeSpan(*(moment + 120 * MINUTE for moment in (pull.p10, pull.p50, pull.p90)))
    load = replace(long.load.load, rest_minutes=120.0, ready_at=ready)
    found = advice(replace(long, load=replace(long.load, load=load)))
    least = long.load.cut.rest_minutes[0]
    assert sooner(found, of(found, Kind.SHORTER_REST)) == pytest.approx(120.0 - least, abs=1e-6)


def other(ready: float, due: float, portions: int = 40) -> Supply:
    """Another load of the item, likely ready and needed in so many minutes, sure to a quarter of an hour."""
    where = house()
    load = planned("other", where.cuts["brisket"], "south", load_at=NOW - 500 * MINUTE, pull_at=NOW)
    at = NOW + ready * MINUTE
    span = TimeSpan(at - 15 * MINUTE, at, at + 15 * MINUTE)
    return Supply(load, span, NOW + due * MINUTE, portions)


def test_another_load_serves_first_when_it_is_ready_sooner_and_needed_later() -> None:
    """The chance is that both are then in time; too few portions are told."""
    found = advice(scene(supplies=(other(60.0, 1200.0, portions=30),)))
    first = of(found, Kind.OTHER_FIRST)
    assert first.chance > 0.9
    assert costs(first) == {CostKind.SWAPPED, CostKind.FEWER}
    long = advice(scene(supplies=(other(60.0, 3000.0),)))
    assert why(long, Kind.OTHER_FIRST) == {Reason.TOO_LONG}, "it may not wait two days itself"
    late = advice(scene(supplies=(other(60.0, 100.0),)))
    assert why(late, Kind.OTHER_FIRST) == {Reason.NO_OTHER_LOAD}


def test_what_does_not_help_is_not_offered() -> None:
    """Nothing offered is less likely in time than doing nothing."""
    for cut, core_c in (("brisket", 80.0), ("chicken-half", 60.0), ("sausage", 60.0), ("pork-loin", 50.0)):
        found = advice(scene(cut, elapsed=60.0, core_c=core_c, left=60.0, needed=-10.0))
        assert all(one.chance >= found.nothing.chance for one in found.remedies)
