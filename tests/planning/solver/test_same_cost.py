"""What the solver minimises is what a plan costs, and what it finds keeps every limit, on drawn problems."""

from dataclasses import replace
from random import Random

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from board.planning.birds import is_bird
from board.planning.levels import drips_beside
from board.planning.problem import Assignment, Placed, phases, points
from board.planning.search.insertion import insertion
from board.planning.search.sound import is_sound
from board.planning.solver.solve import solve
from tests.planning.by_hand import FILES
from tests.planning.search.drawn import DRAWN, problem_drawn
from tests.planning.solver.zoned import ZONED, held_to, problem_zoned

DRAW = settings(
    max_examples=10,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)
# Each of the solver's coefficients is rounded to a tenth of a point, and multiplied by slots of a day or two.
ROUNDING = 2.0
ONE_PIT = [{"kind": "cabinet", "area": 1.6, "low": 200, "high": 350, "warm": 40, "rate": 0.5, "price": 0.3}]
CREW = FILES["crew.toml"]
HOLD = FILES["holds.toml"]


def counted_alike(problem, found, told):
    """Whether points say what the solver told: as much where it proved its plan, and never more.

    Before that a plan may carry minutes of lateness or holding that nothing asks for, which only cost.
    """
    cost = points(problem, found.solution)
    return cost == pytest.approx(told, abs=ROUNDING) if found.proved else cost <= told + ROUNDING


def found_alike(problem):
    """What the solver finds, if anything: it costs what was told, and is sound."""
    told = []
    found = solve(problem, None, seconds=1, seed=0, workers=1, better=lambda cost, bound: told.append(cost))
    if found.solution is not None:
        assert counted_alike(problem, found, told[-1])
        assert is_sound(problem, found.solution)
    return found.solution


@DRAW
@given(DRAWN)
def test_the_points_of_what_is_found_are_the_points_the_solver_counted(tmp_path_factory, drawn):
    """With kept places, turns and standing work, the cost told is what problem.points says."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    found_alike(problem)


@DRAW
@given(ZONED)
def test_in_zones_too_what_is_found_costs_what_it_says_and_is_sound(tmp_path_factory, drawn):
    """With levels, meat that stands, kept and pinned parts and turns; drips are among the limits."""
    problem = problem_zoned(tmp_path_factory.mktemp("zoned"), drawn)
    found = found_alike(problem)
    if found is None:
        return
    for part in problem.parts:
        at = found.placed.get(part.id)
        assert at is None or not drips_beside(problem, part, at)


@DRAW
@given(ZONED)
def test_a_first_plan_is_a_plan_of_the_model(tmp_path_factory, drawn):
    """The model forbids nothing that insertion does: held to its places, the best is proved and no dearer."""
    problem = problem_zoned(tmp_path_factory.mktemp("zoned"), drawn)
    first = insertion(problem)
    held = held_to(problem, first)
    found = solve(held, None, seconds=5, seed=0)
    assert found.proved
    assert points(held, found.solution) <= points(problem, first) + ROUNDING


@DRAW
@given(DRAWN)
def test_a_turn_is_two_runs_of_which_the_second_begins_there(tmp_path_factory, drawn):
    """A part cooked in a mode that turns has a chained run beginning in exactly the slot of its turn."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    turning = [
        replace(part, modes=tuple(mode for mode in part.modes if mode.turn is not None) or part.modes)
        for part in problem.parts
    ]
    problem = replace(problem, parts=tuple(turning))
    found = solve(problem, None, seconds=1, seed=0, workers=1).solution or Assignment({}, {})
    for part in problem.parts:
        at = found.placed.get(part.id)
        if isinstance(at, Placed) and at.mode.turn is not None:
            second = phases(part, at)[1]
            runs = found.runs[at.mode.pit]
            assert any(
                run.chained and (run.begin, run.setpoint_c) == (second.begin, second.setpoint_c)
                for run in runs
            )


def test_no_bird_lies_above_meat_that_stands_below_all_day(tmp_path):
    """Birds with room on the rack only are left out while loins lie on the floor, and cooked without them."""
    problem = problem_zoned(tmp_path, (ONE_PIT, CREW, HOLD, {("lunch", "bird"): 4}, Random(1)))
    parts = tuple(_on_the_rack(part) for part in problem.parts if is_bird(part.need.cut))
    taken = replace(problem.frame.taken, birds={}, others={})
    free = replace(problem, parts=parts, frame=replace(problem.frame, taken=taken))
    assert parts
    assert solve(free, None, seconds=2, seed=0, workers=1).solution.placed.keys() == {p.id for p in parts}
    all_day = {"p0/floor": ((0, problem.frame.grid.slots, 0),)}
    beside = replace(free, frame=replace(free.frame, taken=replace(taken, others=all_day)))
    found = solve(beside, None, seconds=2, seed=0, workers=1)
    assert found.proved
    assert found.solution.placed == {}


def _on_the_rack(part):
    return replace(part, modes=tuple(mode for mode in part.modes if mode.spot == "p0/rack"), kept=None)
