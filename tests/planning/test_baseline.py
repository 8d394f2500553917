"""The plain back-scheduler keeps every rule, as late as is sure, on the first pit that fits."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from board.planning.problem import points
from board.planning.run import Run
from board.planning.search.insertion import insertion
from board.planning.search.sound import is_sound
from tests.planning.assignments import assignment_faults
from tests.planning.baseline import back_scheduled
from tests.planning.planted import COOK, EASE, planted
from tests.planning.search.drawn import DRAWN, problem_drawn
from tests.planning.test_bound import problem_of


@pytest.fixture(scope="module")
def two_pits(two_fires):
    """Two alike pits of 10,000 cm², and loads of `COOK` slots whose last start leaves `EASE` to spare."""
    problem, _ = planted(problem_of(two_fires, {("lunch", "sliced"): 0, ("supper", "bird"): 0}), 2, 0)
    return problem


def two_loads(problem, first_cm2, second_cm2, **lengths):
    """Two of its loads, of these areas."""
    loads = zip(problem.parts, (first_cm2, second_cm2), strict=False)
    parts = tuple(
        replace(
            part, area_cm2=area, modes=tuple(replace(mode, **lengths) for mode in part.modes), id=f"load-{n}"
        )
        for n, (part, area) in enumerate(loads)
    )
    return replace(problem, parts=parts)


def test_two_loads_that_fit_together_share_the_first_pits_fire(two_pits):
    """By hand: 6,000 + 4,000 cm² fill the first pit; both start last, and one fire is lit for them.

    It burns from its warm-up before that start for a slot of loading and the cook, and costs just that.
    """
    problem = two_loads(two_pits, 6_000, 4_000)
    plan, room = back_scheduled(problem), problem.frame.pits["p0"]
    last = problem.parts[0].modes[0].starts[-1]
    assert {(at.mode.pit, at.start) for at in plan.placed.values()} == {("p0", last)}
    setpoint = problem.parts[0].modes[0].setpoint_c
    assert plan.runs == {"p0": (Run(last - room.warm, last + 1 + COOK, setpoint),), "p1": ()}
    slots = room.warm + 1 + COOK
    assert points(problem, plan) == problem.frame.weights.lighting + room.fuel_points * slots


def test_two_loads_too_large_for_one_pit_take_one_each(two_pits):
    """By hand: 6,000 + 5,000 cm² are more than a pit's 10,000; the second load goes to the second pit."""
    plan = back_scheduled(two_loads(two_pits, 6_000, 5_000))
    assert sorted(at.mode.pit for at in plan.placed.values()) == ["p0", "p1"]


def test_a_load_starts_as_late_as_its_chance_allows(two_pits):
    """By hand: sure one slot later than the ease allows, it starts one slot before its last start."""
    problem = two_loads(two_pits, 6_000, 4_000, dq=COOK + EASE + 1)
    last = problem.parts[0].modes[0].starts[-1]
    assert {at.start for at in back_scheduled(problem).placed.values()} == {last - 1}


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(DRAWN)
def test_no_plan_of_the_baseline_breaks_a_rule(tmp_path_factory, drawn):
    """The search's own eye and one that shares nothing with it find no fault, nor in the first plan."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    for plan in (back_scheduled(problem), insertion(problem)):
        assert is_sound(problem, plan)
        assert assignment_faults(problem, plan) == []
