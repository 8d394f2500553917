"""How a piece of work is timed."""

from collections.abc import Callable
from statistics import median
from time import perf_counter

REPEATS = 7


def milliseconds(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Median milliseconds of a few runs, after one that is not counted."""
    work()
    spent = []
    for _ in range(repeats):
        began = perf_counter()
        work()
        spent.append(1000.0 * (perf_counter() - began))
    return median(spent)
