"""Cutting what finds no place or no time whole: nothing is lost, nothing is overdrawn, nothing costs more."""

from collections import Counter

from hypothesis import given

from board.planning.problem import Assignment, points
from board.planning.search.insertion import insertion
from board.planning.search.sound import is_sound
from board.planning.search.squeeze import squeeze
from tests.planning.search.drawn import DRAWN, problem_drawn
from tests.planning.search.test_insertion import DRAW

ROUNDING = 1e-6


def _pieces(problem):
    """Pieces of each need, whatever parts they are in."""
    found = Counter()
    for part in problem.parts:
        found[part.need.name] += part.pieces
    return found


@DRAW
@given(DRAWN)
def test_cut_and_cut_again_every_bit_is_one_of_its_own(tmp_path_factory, drawn):
    """Squeezed twice over, no two bits share a name and no piece is lost; each time the plan is sound."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    plan, pieces = insertion(problem), _pieces(problem)
    for _ in range(3):
        before = points(problem, plan)
        problem, plan = squeeze(problem, plan)
        names = [part.id for part in problem.parts]
        assert len(names) == len(set(names))
        assert _pieces(problem) == pieces
        assert is_sound(problem, plan)
        assert points(problem, plan) <= before + ROUNDING
        # without its first load the plan has room in other places, and the next cuts are others
        plan = Assignment({name: at for name, at in plan.placed.items() if name != names[0]}, plan.runs)
