"""A committed plan made to fit again: nothing moves that can stay, then ever more of what is in the way."""

from collections.abc import Iterator
from dataclasses import dataclass

from board.planning.problem import Assignment, Problem, points
from board.planning.replan.keeping import Seated, held_still, let_go, seated
from board.planning.replan.near import nearest, only_near
from board.planning.replan.unmet import could_do_better, unmet
from board.planning.search.freed import hint_for, joined, part_problem
from board.planning.search.progress import Answer, Progress, Stop, Watcher, never, nobody
from board.planning.search.settle import settle
from board.planning.search.sound import is_sound
from board.planning.search.squeeze import squeeze
from board.planning.search.tidy import tidy

Found = tuple[Problem, Assignment]

# How many loads in the way are freed beside those without a place, step by step, and the share of the time
# each step is given. What one step of a few cannot mend a later one often can; past twelve it is a new plan.
_STEPS = ((0, 0.15), (3, 0.2), (8, 0.25))
# The share of the time for everything free, where no step leaves nothing short or late.
_ALL = 0.4


@dataclass(frozen=True)
class _Effort:
    seconds: float
    seed: int
    stop: Stop


def settle_again(
    problem: Problem,
    *,
    seconds: float,
    seed: int,
    progress: Watcher | None = None,
    stop: Stop | None = None,
    hint: Assignment | None = None,
) -> Answer:
    """Settle a problem from its committed places, or from a plan that was made of them.

    Loads that still fit stay. The others go where they add the least, first with all else in its place, then
    with more and more of the loads in their way free to move as well, until nothing is short or late; and
    that only where the load itself could do better. Moving costs points, so what is free moves only where it
    helps.
    """
    begun = Seated(hint, ()) if hint is not None else seated(problem)
    best: Found = problem, begun.plan
    tell = progress or nobody
    tell(Progress(points(*best), 0.0, "first plan"))
    homeless = begun.displaced
    effort = _Effort(seconds, seed, stop or never)
    if seconds > 0 and (homeless or _worth_widening(best)):
        for found in _wider(best, frozenset(homeless), effort):
            best = _cheaper(best, found)
            tell(Progress(points(*best), 0.0, "better plan"))
    best = squeeze(*best)
    return Answer(best[0], tidy(*best), _bound(best[0]) if seconds > 0 else 0.0, proved=False)


def _bound(problem: Problem) -> float:
    from board.planning.bound.rising import lower_bound  # noqa: PLC0415 - the solver takes 0.4 s to import

    return lower_bound(problem)


def _cheaper(one: Found, other: Found) -> Found:
    return min(one, other, key=lambda found: points(*found))


def _worth_widening(found: Found) -> bool:
    """Whether something is short or late that could be less so if it had the pits to itself."""
    return any(could_do_better(*found, part) for part in unmet(*found))


def _wider(best: Found, homeless: frozenset[str], effort: _Effort) -> Iterator[Found]:
    """Plans with ever more loads free to move, until none is short or late that could be helped."""
    problem = best[0]
    free = homeless | {part.id for part in unmet(*best)}
    for more, share in _STEPS:
        if effort.stop():
            return
        beside = nearest(problem, best[1], free)[:more]
        best = _cheaper(best, _freed(best, free | frozenset(beside), share * effort.seconds, effort))
        yield best
        if not _worth_widening(best):
            return
    answer = settle(problem, seconds=_ALL * effort.seconds, seed=effort.seed, stop=effort.stop, hint=best[1])
    yield answer.problem, answer.solution


def _freed(best: Found, free: frozenset[str], seconds: float, effort: _Effort) -> Found:
    """What a plan becomes with some of its loads free to move; itself where nothing better is found."""
    from board.planning.solver.solve import solve  # noqa: PLC0415 - the solver takes 0.4 s to import

    problem, plan = best
    held, hint = held_still(problem, plan, free)
    few = only_near(held, hint, free)
    part = part_problem(held, hint, few)
    mine = hint_for(part, hint, few)
    found = solve(part, mine, seconds=seconds, seed=effort.seed, stop=effort.stop)
    if found.solution is None:
        return best
    after = let_go(problem, held, joined(held, hint, few, found.solution))
    return after if is_sound(*after) else best
