"""A problem and its first plan, which the tests of cost and chance look at."""

from datetime import date

import pytest

from board.planning.build import build
from board.planning.demand import needs_of
from board.planning.dues import occasions_on
from board.planning.search.insertion import insertion
from board.planning.weights import weights_of

DAY = date(2026, 6, 10)


@pytest.fixture(scope="module")
def planned(two_fires):
    """The problem of an ordinary Wednesday and its first plan."""
    weights = weights_of(two_fires.weighing)
    needs = needs_of(two_fires, occasions_on(two_fires, DAY), weights.enough_chance)
    problem = build(two_fires, needs, weights, seed=0, now=None)
    return problem, insertion(problem)
