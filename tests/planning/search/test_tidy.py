"""A plan is tidied: no fire burns that has no meat, and none sooner than its meat asks."""

import pytest

from board.planning.build import build
from board.planning.demand import needs_of
from board.planning.dues import occasions_on
from board.planning.problem import Assignment, cooking
from board.planning.run import Run
from board.planning.search.insertion import insertion
from board.planning.search.tidy import tidy
from board.planning.weights import weights_of
from tests.planning.conftest import DAY


@pytest.fixture(scope="module")
def problem(two_fires):
    """The two fires' day as a problem."""
    weights = weights_of(two_fires.weighing)
    needs = needs_of(two_fires, occasions_on(two_fires, DAY), weights.enough_chance)
    return build(two_fires, needs, weights, seed=0, now=None)


def test_two_fires_in_a_row_without_meat_are_not_lit(problem):
    """Once a load that had its pit turned lies elsewhere, neither of the two setpoints is asked for."""
    row = (Run(100, 150, 118.0), Run(150, 200, 135.0, chained=True))
    tidied = tidy(problem, Assignment({}, {"long": (), "box": row}))
    assert tidied.runs == {"long": (), "box": ()}


def test_meat_behind_an_empty_fire_has_a_fire_of_its_own(problem):
    """The supper's birds behind a fire for nothing: the box is lit for them, its 40 min of warm-up before."""
    bird = next(part for part in problem.parts if part.id == "supper-bird-1")
    at = insertion(problem).placed[bird.id]
    begin, end = cooking(bird, at)
    empty = Run(begin - 40, begin - 10, at.mode.setpoint_c - 20)
    row = (empty, Run(begin - 10, end, at.mode.setpoint_c, chained=True))
    tidied = tidy(problem, Assignment({bird.id: at}, {"long": (), at.mode.pit: row}))
    assert at.mode.pit == "box"
    assert tidied.runs["box"] == (Run(begin - 8, end, at.mode.setpoint_c),)


def test_an_empty_fire_is_kept_where_its_heat_is_needed(problem):
    """Begun 30 min before the birds, a box that takes 40 is hot in time only because it burned before."""
    bird = next(part for part in problem.parts if part.id == "supper-bird-1")
    at = insertion(problem).placed[bird.id]
    begin, end = cooking(bird, at)
    row = (Run(begin - 6, begin - 4, 110.0), Run(begin - 4, end, at.mode.setpoint_c, chained=True))
    assert tidy(problem, Assignment({bird.id: at}, {"long": (), "box": row})).runs["box"] == row
