"""Problems whose best plan is planted: bounds reach it and never pass it, and settling proves it."""

from itertools import islice

import pytest

from board.planning.bound.buckets import bucket_bound
from board.planning.bound.rising import lower_bound, rising_bounds
from board.planning.problem import points
from board.planning.search.settle import settle
from tests.planning.planted import planted
from tests.planning.test_bound import problem_of


@pytest.fixture(scope="module")
def template(two_fires):
    """A problem to take a house and a part from."""
    return problem_of(two_fires, {("lunch", "sliced"): 0, ("supper", "bird"): 0})


@pytest.mark.parametrize(("pits", "seed"), [(1, 0), (3, 1), (6, 2), (12, 3), (20, 4)])
def test_the_finest_bound_is_the_planted_best(template, pits, seed):
    """With a bucket for each slot the bound is the planted cost; coarser ones lie below."""
    problem, best = planted(template, pits, seed)
    assert bucket_bound(problem, 1) == pytest.approx(best, rel=1e-6)
    assert max(lower_bound(problem), *(bucket_bound(problem, b) for b in (1, 2, 3, 7, 24))) <= best + 1e-6


@pytest.mark.parametrize(("pits", "seed"), [(3, 1), (3, 2), (6, 2)])
def test_settling_proves_the_planted_best(template, pits, seed):
    """The search finds the planted plan, or one as cheap, and its bound proves it."""
    problem, best = planted(template, pits, seed)
    answer = settle(problem, seconds=10, seed=0)
    assert points(answer.problem, answer.solution) == pytest.approx(best)
    assert answer.proved
    assert answer.bound == pytest.approx(best, rel=1e-4)


def test_rising_bounds_never_fall_and_are_the_same_again(template):
    """Each bound is no lower than the one before, and asking again repeats them."""
    problem, best = planted(template, 6, 2)
    rising = list(rising_bounds(problem, seed=0))
    assert rising == sorted(rising)
    assert rising[0] == lower_bound(problem)
    assert rising == list(rising_bounds(problem, seed=0))
    assert rising[-1] <= best + 1e-6


def test_alike_pits_take_no_more_steps_than_one(template):
    """Twenty pits that differ in nothing are one in the program: a few steps end at the planted best."""
    problem, best = planted(template, 20, 4)
    assert list(islice(rising_bounds(problem, seed=0), 8))[-1] == pytest.approx(best, rel=1e-6)
