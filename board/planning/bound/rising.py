"""Bounds on a problem's cost, one after the other, never falling."""

from collections.abc import Iterator

from board.planning.bound.coarse import lower_bound as _coarse
from board.planning.problem import Problem


def lower_bound(problem: Problem) -> float:
    """Points that every plan of the problem costs at least; the quick bound."""
    return _coarse(problem)


def rising_bounds(problem: Problem, *, seed: int) -> Iterator[float]:
    """Bounds that never fall, each of about two seconds' work at most; ends when it cannot rise."""
    yield lower_bound(problem)
