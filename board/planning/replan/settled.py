"""A day settled from its committed plan: by a short search, as a cure is tried, and by a long one."""

from collections.abc import Iterator
from functools import partial

from board.planning.problem import Problem, points
from board.planning.reckoning import settle_as_reckoned
from board.planning.replan.again import settle_again
from board.planning.replan.keeping import seated
from board.planning.search.progress import Answer, Progress, Stop, Watcher, never, nobody
from board.planning.shortfall.lacking import Portions, missing_of

# The short search has so much of the time, and no more than so many seconds: a cure is judged after it, and
# ten of them take about as long as the plan.
_SHARE, _SECONDS_MOST = 0.1, 0.5


def settled_soon(
    problem: Problem, *, seconds: float, seed: int, progress: Watcher | None = None, stop: Stop | None = None
) -> Answer:
    """The plan after the short search.

    Args:
        seconds: how long the short and the long search are together.
    """
    return _searched(problem, _short(seconds), seed, progress or nobody, stop)


def settled_from_committed(
    problem: Problem, *, seconds: float, seed: int, progress: Watcher | None = None, stop: Stop | None = None
) -> Iterator[Answer]:
    """The plan after the short search, then that after the long one where it is cheaper.

    Each starts from the committed places: what one is stuck in, the other may not meet.
    """
    tell = progress or nobody
    soon = settled_soon(problem, seconds=seconds, seed=seed, progress=tell, stop=stop)
    yield soon
    if seconds > 0 and not (stop or never)():
        cost = points(soon.problem, soon.solution)
        longer = _searched(problem, seconds - _short(seconds), seed, _if_cheaper(tell, cost), stop)
        if points(longer.problem, longer.solution) < cost:
            yield longer


def takes_from_some(after: Answer, before: Answer) -> bool:
    """Whether some service lacks more of an item than before: what was told of a cure would not hold."""
    lacked = _missing(before)
    return any(n > lacked.get(key, 0) for key, n in _missing(after).items())


def _missing(answer: Answer) -> Portions:
    return missing_of(answer.problem, answer.solution, answer.problem.needs)


def _short(seconds: float) -> float:
    return min(seconds * _SHARE, _SECONDS_MOST)


def _searched(problem: Problem, seconds: float, seed: int, tell: Watcher, stop: Stop | None) -> Answer:
    search, first = partial(settle_again, seed=seed), seated(problem).plan
    return settle_as_reckoned(problem, search, seconds=seconds, first=first, progress=tell, stop=stop)


def _if_cheaper(tell: Watcher, than: float) -> Watcher:
    def told(progress: Progress) -> None:
        if progress.cost < than:
            tell(progress)

    return told
