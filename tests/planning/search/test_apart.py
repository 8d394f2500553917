"""Two processes on two halves of the pits: sound, no dearer, the same each time, and stopped when asked."""

from concurrent.futures import BrokenExecutor

import pytest

from board.planning.problem import points
from board.planning.search import apart
from board.planning.search.apart import recreated_apart
from board.planning.search.insertion import insertion
from board.planning.search.rounds import Budget
from tests.bench.planning.houses import house_of, problem_of
from tests.planning.assignments import assignment_faults


@pytest.fixture(scope="module")
def problem():
    """A drawn day with more loads than one pit can take."""
    return problem_of(*house_of("medium", 1))


def test_both_halves_are_taken_in_where_they_go_together(problem):
    """What two processes find is one plan that keeps every limit, told as often as it gets cheaper."""
    first, told = insertion(problem), []
    plan = recreated_apart(problem, first, Budget(0.8, 3), told.append)
    assert not assignment_faults(problem, plan)
    assert points(problem, plan) < points(problem, first)
    assert told[-1] == pytest.approx(points(problem, plan))
    assert plan == recreated_apart(problem, first, Budget(0.8, 3), lambda _: None)


def test_stopped_at_once_it_is_the_plan_it_began_with(problem):
    """Nothing is begun for a person who has stopped it already."""
    first = insertion(problem)
    assert recreated_apart(problem, first, Budget(60.0, 0, lambda: True), lambda _: None) == first


def test_stopped_in_the_midst_it_ends_with_what_there_is(problem):
    """Asked to stop while both are at work, they give what they have found, which is sound."""
    first, asked = insertion(problem), iter([False] + [True] * 10_000)
    plan = recreated_apart(problem, first, Budget(600.0, 0, lambda: next(asked)), lambda _: None)
    assert not assignment_faults(problem, plan)
    assert points(problem, plan) <= points(problem, first)


def test_where_no_second_process_can_be_both_halves_are_searched_in_this_one(problem, monkeypatch):
    """A machine without room for it leads to the same plan, only later."""
    first = insertion(problem)
    with_two = recreated_apart(problem, first, Budget(0.4, 3), lambda _: None)

    class Broken:
        def __init__(self, *_, **__):
            pass

        def __enter__(self):
            return self

        def __exit__(self, *_):
            pass

        def submit(self, *_):
            raise BrokenExecutor

    monkeypatch.setattr(apart, "ProcessPoolExecutor", Broken)
    assert recreated_apart(problem, first, Budget(0.4, 3), lambda _: None) == with_two
