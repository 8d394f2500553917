"""The bound of houses too large for a program: below every plan, and below the program's own."""

import pytest

from board.planning.bound import rising
from board.planning.bound.alone import least_points
from board.planning.problem import points
from board.planning.search.insertion import insertion
from tests.bench.planning.houses import house_of, problem_of


@pytest.fixture(scope="module")
def problem():
    """A drawn day."""
    return problem_of(*house_of("small", 4))


def test_what_parts_cost_alone_lies_below_the_program_and_every_plan(problem):
    """Without fires and without each other, parts cost no more than with them."""
    least = least_points(problem)
    assert 0 < least <= rising.lower_bound(problem) <= points(problem, insertion(problem))


def test_a_house_too_large_for_a_program_has_that_bound_alone(problem, monkeypatch):
    """No program is written for it."""
    monkeypatch.setattr(rising, "_MOST_MEAT", 0)
    monkeypatch.setattr(rising, "bucket_bound", None)
    assert list(rising.rising_bounds(problem, seed=0)) == [least_points(problem)]
