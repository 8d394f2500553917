"""The independent check is itself checked: each kind of fault planted in a good plan is found."""

from dataclasses import replace
from datetime import timedelta

import pytest

from board.planning.plan import Plan, PlannedLoad
from board.planning.planner import plan_day
from tests.planning.checker import faults
from tests.planning.conftest import DAY

HOUR = timedelta(hours=1)


def with_load(plan: Plan, **changes) -> Plan:
    """The plan with its first brisket load changed."""
    chosen = next(load for load in plan.loads if load.cut == "brisket")
    loads = tuple(replace(load, **changes) if load is chosen else load for load in plan.loads)
    return replace(plan, loads=loads)


def first(plan: Plan) -> PlannedLoad:
    """The load that `with_load` changes."""
    return next(load for load in plan.loads if load.cut == "brisket")


def test_a_load_in_a_cold_pit_is_found(plain_plan, two_fires):
    """Loading at the moment of lighting is a fault."""
    found = faults(with_load(plain_plan, light_at=first(plain_plan).load_at), two_fires)
    assert any("cold pit" in fault for fault in found)


def test_two_setpoints_at_once_are_found(plain_plan, two_fires):
    """A second load in the same pit at another setpoint is a fault."""
    twin = replace(first(plain_plan), id="twin", setpoint_c=first(plain_plan).setpoint_c + 10)
    found = faults(replace(plain_plan, loads=(*plain_plan.loads, twin)), two_fires)
    assert any("two setpoints" in fault for fault in found)


def test_an_overfull_pit_bench_and_hold_are_found(plain_plan, two_fires):
    """Too much area in one place is a fault of that place."""
    found = faults(with_load(plain_plan, area_m2=9.0, pieces=57), two_fires)
    assert any("Box holds" in f or "Long holds" in f for f in found)
    assert any("the bench holds" in f for f in found)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"chance": 0.2}, "chance"),
        ({"hold_minutes_p50": 5000.0}, "waits"),
        ({"rest_minutes": 1.0}, "rests"),
        ({"spare_minutes_p50": 999.0}, "spare"),
        ({"setpoint_c": 180.0}, "cannot be set"),
        ({"portions": 1}, "promised"),
    ],
)
def test_a_figure_that_does_not_add_up_is_found(plain_plan, two_fires, change, words):
    """Each figure of a load that contradicts the rest is a fault."""
    assert any(words in fault for fault in faults(with_load(plain_plan, **change), two_fires))


def test_a_person_in_two_places_is_found(plain_plan, two_fires):
    """Giving every step to one person is a fault."""
    steps = tuple(replace(step, who="nan") for step in plain_plan.steps)
    found = faults(replace(plain_plan, steps=steps), two_fires)
    assert any("not on shift" in fault for fault in found)


def test_a_missing_step_and_a_missing_name_are_found(plain_plan, two_fires):
    """A plan without its wrapping, or with a step nobody does, is at fault."""
    without = tuple(step for step in plain_plan.steps if step.what != "wrap")
    assert any("no step to wrap" in f for f in faults(replace(plain_plan, steps=without), two_fires))
    nobody = tuple(replace(step, who=None) for step in plain_plan.steps)
    assert any("nobody does it" in f for f in faults(replace(plain_plan, steps=nobody), two_fires))


def test_a_gap_too_short_and_a_batch_too_late_are_found(plain_plan, two_fires):
    """A brine cut short and a batch made after its use are faults."""
    moved = tuple(
        replace(s, at=s.at + 6 * HOUR, ends_at=s.ends_at + 6 * HOUR) if s.what in {"brine", "make"} else s
        for s in plain_plan.steps
    )
    found = faults(replace(plain_plan, steps=moved), two_fires)
    assert any("allowed" in fault for fault in found)
    assert any("not made by" in fault for fault in found)


def test_a_fire_for_no_meat_is_found(plain_plan, two_fires):
    """A lighting that no load counts from is a fault."""
    fire = next(step for step in plain_plan.steps if step.what == "light")
    extra = replace(fire, id="extra", at=fire.at - 9 * HOUR, ends_at=fire.ends_at - 9 * HOUR)
    found = faults(replace(plain_plan, steps=(extra, *plain_plan.steps)), two_fires)
    assert any("a fire for no meat" in fault for fault in found)


def test_portions_made_for_another_service_do_not_count(plain_plan, two_fires):
    """Twice the birds at lunch do not serve supper."""
    loads = tuple(load for load in plain_plan.loads if "supper" not in load.services)
    more = tuple(replace(ld, portions=99) if ld.item == "bird" else ld for ld in loads)
    assert any("supper: 12 bird" in f for f in faults(replace(plain_plan, loads=more), two_fires))


def test_wrapping_outside_the_cook_is_found(plain_plan, two_fires):
    """Paper before the meat is on is a fault."""
    early = with_load(plain_plan, wrap_at=first(plain_plan).load_at - 9 * HOUR)
    assert any("outside its cook" in fault for fault in faults(early, two_fires))


def test_a_hidden_shortage_and_a_false_bound_are_found(plain_plan, two_fires):
    """Leaving a load out without saying so, and a bound above the cost, are faults."""
    assert any("promised" in f for f in faults(replace(plain_plan, loads=plain_plan.loads[1:]), two_fires))
    assert any("bound" in f for f in faults(replace(plain_plan, bound=plain_plan.cost + 1), two_fires))


@pytest.fixture(scope="module")
def waves(two_fires):
    """The house with birds fresh every hour of supper, and its plan."""
    birds = replace(two_fires.items["bird"], fresh_minutes=60.0)
    house = replace(two_fires, items={**two_fires.items, "bird": birds})
    return house, plan_day(house, DAY, seconds=0)


def test_a_good_plan_in_waves_is_let_pass(waves):
    """Nothing is found where each wave has its load, or shares one within its hold."""
    house, plan = waves
    assert faults(plan, house) == []
    assert (
        len({at for load in plan.loads if load.item == "bird" for at in load.waves or (load.needed_at,)}) == 6
    )


def test_a_wave_without_its_load_is_found(waves):
    """Birds of a later wave do not serve an earlier one, nor an hour nobody asked for."""
    house, plan = waves
    early = next(ld for ld in plan.loads if ld.item == "bird" and "supper" in ld.services)
    later = replace(early, waves=tuple(at + HOUR for at in early.waves), needed_at=early.needed_at + HOUR)
    loads = tuple(later if load is early else load for load in plan.loads)
    assert any("due by" in fault for fault in faults(replace(plan, loads=loads), house))
    odd = replace(early, waves=(early.needed_at, early.needed_at + HOUR / 2))
    loads = tuple(odd if load is early else load for load in plan.loads)
    assert any("another time" in fault for fault in faults(replace(plan, loads=loads), house))
