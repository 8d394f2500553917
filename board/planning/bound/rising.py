"""Bounds on a problem's cost, one after the other, never falling."""

from collections.abc import Iterator
from itertools import repeat

from board.planning.bound.alike import batches, blocks
from board.planning.bound.alone import least_points
from board.planning.bound.buckets import bucket_bound, whole_bound
from board.planning.bound.kinds import gathered
from board.planning.problem import Problem

# Slots in a bucket, ever finer; finer is dearer to solve and mostly higher.
BUCKETS = (12, 6, 3, 2, 1)
# Starts times their slots on the pit, over the bucket squared, of parts and pits that are not alike: about
# how many terms a program has. Up to _QUICK_TERMS it is solved in tenths of a second, up to _MOST_TERMS in
# seconds.
_QUICK_TERMS, _MOST_TERMS = 40_000, 700_000
# In whole numbers it takes about two seconds for each _STEP_TERMS; up to so many terms it is tried.
_STEP_TERMS, _WHOLE_TERMS = 2_500, 30_000
# Of more starts times slots, writing the program alone takes too long.
_MOST_MEAT = 500_000_000
# A coarse program may be halved down to so many slots; below that it takes longer than it is worth.
_HALVED_LEAST = 48


def lower_bound(problem: Problem) -> float:
    """Points that every plan of the problem costs at least; a quick bound, of tenths of a second."""
    return bucket_bound(problem, _coarsest(_meat(problem)))


def rising_bounds(problem: Problem, *, seed: int) -> Iterator[float]:
    """Bounds that never fall, each of about two seconds' work; ends when it cannot rise.

    A bound that takes longer comes after repeats of the one before, one for each two seconds, so that
    whoever draws by the count pays for it. Loads and fires are counted whole where the program stays small
    enough, as parts of a whole beyond and while that takes its time.

    Args:
        seed: of the solver's own choices; the same problem and seed give the same bounds.
    """
    meat = _meat(problem)
    if meat > _MOST_MEAT:
        yield least_points(problem)
        return
    coarsest = _coarsest(meat)
    best = bucket_bound(problem, coarsest)
    yield best
    for bucket in (coarsest, *_finer(coarsest)):
        terms = meat / bucket**2
        if terms <= _WHOLE_TERMS:
            waits = int(terms / _STEP_TERMS)
            if waits and bucket < coarsest:
                best = max(best, bucket_bound(problem, bucket))
            yield from repeat(best, waits)
            best = max(best, whole_bound(problem, bucket, seed=seed))
            yield best
        elif bucket < coarsest and terms <= _MOST_TERMS:
            best = max(best, bucket_bound(problem, bucket))
            yield best


def _finer(coarsest: int) -> Iterator[int]:
    halved = coarsest // 2
    while halved >= _HALVED_LEAST:
        yield halved
        halved //= 2
    yield from (bucket for bucket in BUCKETS if bucket < coarsest)


def _coarsest(meat: int) -> int:
    bucket = BUCKETS[0]
    while meat / bucket**2 > _QUICK_TERMS:
        bucket *= 2
    return bucket


def _meat(problem: Problem) -> int:
    """Starts times their slots on the pit, each kind of part on each kind of pit once, as the program has."""
    problem, stands_for = gathered(problem)
    pits = {block.pit for block in blocks(problem, stands_for)}
    kinds = (batch.part for batch in batches(problem))
    return sum(len(m.starts) * (part.load + m.d90) for part in kinds for m in part.modes if m.pit in pits)
