"""Placing loads again: never dearer, sound, the same each time, and no pit touched that is not named."""

import pytest

from board.planning.problem import points
from board.planning.search.insertion import insertion
from board.planning.search.recreate import recreated
from board.planning.search.rounds import Budget
from board.planning.search.sound import is_sound
from tests.bench.planning.houses import house_of, problem_of
from tests.planning.assignments import assignment_faults


@pytest.fixture(scope="module", params=[("small", 1), ("day", 2), ("medium", 3)], ids=str)
def problem(request):
    """A drawn house's day."""
    return problem_of(*house_of(*request.param))


def test_what_it_leads_to_is_sound_and_no_dearer(problem):
    """Whatever is taken off and placed again, the plan keeps every limit and costs no more than before."""
    first = insertion(problem)
    told = []
    plan = recreated(problem, first, Budget(0.3, 0), told.append)
    assert not assignment_faults(problem, plan)
    assert is_sound(problem, plan)
    assert points(problem, plan) <= points(problem, first)
    assert told == sorted(told, reverse=True)
    assert not told or told[-1] == pytest.approx(points(problem, plan))


def test_the_same_seed_leads_to_the_same_plan(problem):
    """Time is counted as work, so that nothing but problem, seed and seconds decides."""
    first = insertion(problem)
    once, again = (recreated(problem, first, Budget(0.1, 7), lambda _: None) for _ in range(2))
    assert once == again


def test_pits_that_are_not_named_stay_as_they_are(problem):
    """Of pits named, others keep their fires and their meat."""
    first = insertion(problem)
    named = set(list(problem.frame.pits)[:2])
    plan = recreated(problem, first, Budget(0.2, 0), lambda _: None, named)
    for pit in set(problem.frame.pits) - named:
        assert plan.runs[pit] == first.runs[pit]
    elsewhere = {key: at for key, at in first.placed.items() if at.mode.pit not in named}
    assert elsewhere.items() <= plan.placed.items()
