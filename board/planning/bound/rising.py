"""Bounds on a problem's cost, one after the other, never falling."""

from collections.abc import Iterator

from board.planning.bound.buckets import bucket_bound
from board.planning.problem import Problem

# Slots in a bucket, ever finer; finer is dearer to solve and mostly higher.
BUCKETS = (12, 6, 3, 2, 1)
# Starts times their slots on the pit, over the bucket squared: about how many terms a program has.
_QUICK_TERMS = 40_000
_MOST_TERMS = 200_000


def lower_bound(problem: Problem) -> float:
    """Points that every plan of the problem costs at least; a quick bound, of tenths of a second."""
    return bucket_bound(problem, _coarsest(problem))


def rising_bounds(problem: Problem, *, seed: int) -> Iterator[float]:
    """Bounds that never fall, each of about two seconds' work at most; ends when it cannot rise.

    Args:
        seed: unused while no step of it is drawn; the same problem gives the same bounds.
    """
    del seed
    first = _coarsest(problem)
    best = bucket_bound(problem, first)
    yield best
    for bucket in BUCKETS:
        if bucket < first and _terms(problem, bucket) <= _MOST_TERMS:
            best = max(best, bucket_bound(problem, bucket))
            yield best


def _coarsest(problem: Problem) -> int:
    bucket = BUCKETS[0]
    while _terms(problem, bucket) > _QUICK_TERMS:
        bucket *= 2
    return bucket


def _terms(problem: Problem, bucket: int) -> float:
    meat = sum(len(m.starts) * (part.load + m.d90) for part in problem.parts for m in part.modes)
    return meat / bucket**2
