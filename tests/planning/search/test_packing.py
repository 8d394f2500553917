"""What finds no room is packed with all that is on beside it, where nearly no room may be lost."""

import pytest

from board.planning.problem import points
from board.planning.search.insertion import insertion
from board.planning.search.sound import is_sound
from board.planning.solver.fillings import fillings
from board.planning.solver.packing import pack
from tests.planning.planted import planted
from tests.planning.test_bound import problem_of


@pytest.mark.parametrize(("pits", "seed"), [(3, 1), (12, 1), (20, 1), (20, 2)])
def test_what_insertion_leaves_out_is_packed_to_the_planted_best(two_fires, pits, seed):
    """Pits filled to the last square centimetre: every load is served at the planted cost, and soundly."""
    problem, best = planted(
        problem_of(two_fires, {("lunch", "sliced"): 0, ("supper", "bird"): 0}), pits, seed
    )
    plan = insertion(problem)
    assert len(plan.placed) < len(problem.parts)
    found = pack(problem, plan, below=points(problem, plan), seconds=5, seed=0).solution
    assert points(problem, found) == pytest.approx(best)
    assert is_sound(problem, found)


def test_fillings_are_all_sets_that_fit_and_lose_little():
    """By hand: of 2, 3, 5 and 7 in a room of 10, only 3 + 7 and 2 + 3 + 5 lose nothing; 2 + 7 loses one."""
    assert {frozenset(way) for way in fillings([2, 3, 5, 7], 10, 0)} == {
        frozenset({1, 3}),
        frozenset({0, 1, 2}),
    }
    assert frozenset({0, 3}) in {frozenset(way) for way in fillings([2, 3, 5, 7], 10, 1)}
