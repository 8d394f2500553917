"""A bound for a house too large for a program: what each part costs at least were it alone there."""

from board.planning.bound.burning import known_points
from board.planning.bound.kinds import gathered
from board.planning.problem import Part, Problem
from board.planning.search.shapes import Shapes


def least_points(problem: Problem) -> float:
    """Points that every plan costs at least, fires left out of account."""
    relaxed, _ = gathered(problem)
    shapes = Shapes(relaxed)
    return known_points(problem) + sum(_least(relaxed, shapes, part) for part in relaxed.parts)


def _least(problem: Problem, shapes: Shapes, part: Part) -> float:
    dropped = problem.frame.weights.unserved_portion * part.worth
    return min([dropped, *(shape.least for _, shape in shapes.of(part))])
