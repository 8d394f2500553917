"""Judging all starts at once finds what asking about each in turn finds."""

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, given, settings

from board.planning.problem import Placed, part_points, points
from board.planning.search.insertion import cheapest_fit, insertion, rests
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.search.shapes import start_points
from tests.planning.search.drawn import DRAWN, problem_drawn

DRAW = settings(
    max_examples=6,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)


def asked_in_turn(occupancy, part):
    """The fewest points of any mode, start and rest that fits, or of leaving it out."""
    least = occupancy.problem.frame.weights.unserved_portion * part.worth
    for mode in part.modes:
        for start in mode.starts:
            for rest in rests(part, part.wait_until - (start + part.load + mode.d50)):
                fit = occupancy.fit(part, Placed(mode, start, rest))
                least = min(least, fit.added) if isinstance(fit, Fit) else least
    return least


@DRAW
@given(DRAWN)
def test_the_cheapest_fit_is_the_cheapest_of_all(tmp_path_factory, drawn):
    """At each step of laying a drawn day in, no start asked about alone adds less than the one found."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    occupancy = Occupancy(problem)
    for part in problem.parts:
        fit = cheapest_fit(occupancy, part)
        unserved = problem.frame.weights.unserved_portion * part.worth
        assert (unserved if fit is None else fit.added) == pytest.approx(asked_in_turn(occupancy, part))
        if fit is not None:
            before = points(problem, occupancy.assignment())
            occupancy.place(part, fit)
            assert points(problem, occupancy.assignment()) == pytest.approx(before - unserved + fit.added)


@DRAW
@given(DRAWN)
def test_the_points_of_all_starts_are_the_points_of_each(tmp_path_factory, drawn):
    """A mode's array of points is what the one definition of cost says of each start."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    for part in problem.parts:
        for mode in part.modes:
            each = [part_points(problem, part, Placed(mode, start, part.rest_min)) for start in mode.starts]
            assert start_points(problem, part, mode, np.array(mode.starts, dtype=np.int64)) == pytest.approx(
                each
            )


@DRAW
@given(DRAWN)
def test_what_is_taken_off_leaves_no_trace(tmp_path_factory, drawn):
    """Taking every part off again and letting the fires out gives back all room, hands and attention."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    plan, occupancy, empty = insertion(problem), Occupancy(problem), Occupancy(problem)
    for part in problem.parts:
        if part.id in plan.placed:
            at = plan.placed[part.id]
            occupancy.place(part, Fit(at, plan.runs[at.mode.pit], 0.0))
    for part in problem.parts:
        if part.id in plan.placed:
            assert occupancy.take_off(part) == plan.placed[part.id]
    for pit, runs in problem.frame.taken.runs.items():
        occupancy.burn(pit, runs)
    for kinds, left in empty.work.items():
        assert (occupancy.work[kinds] == left).all()
    for spot, left in empty.pit_left.items():
        assert (occupancy.pit_left[spot] == left).all()
    assert (occupancy.attention_left == empty.attention_left).all()
    assert (occupancy.bench_left == empty.bench_left).all()
    assert (occupancy.hold_left == empty.hold_left).all()
