"""A committed plan made to fit again: nothing moves that can stay, then only what stands in the way."""

from dataclasses import replace

from board.planning.problem import Assignment, Part, Placed, Problem, cooking, part_points, points
from board.planning.replan.keeping import Seated, held_still, let_go, seated
from board.planning.search.progress import Answer, Progress, Stop, Watcher, nobody
from board.planning.search.settle import settle
from board.planning.search.tidy import tidy

# Loads freed at a time beside those that lost their place: the nearest on the same pits.
_FREED_MOST = 6


def settle_again(
    problem: Problem, *, seconds: float, seed: int, progress: Watcher | None = None, stop: Stop | None = None
) -> Answer:
    """Settle a problem from its committed places.

    Loads that still fit stay. The others go where they add the least; if that leaves something short or
    late, or may be bettered, the loads in their way are freed, and all loads where that is not enough.
    Moving costs points, so what is freed moves only where it helps.
    """
    begun = seated(problem)
    tell = progress or nobody
    best = problem, begun.plan
    tell(Progress(points(*best), 0.0, "first plan"))
    if seconds > 0 and begun.displaced:
        best = _freed(best, _in_the_way(best[0], begun), seconds=seconds / 2, seed=seed, stop=stop)
        if _lacks(*best):
            problem, hint = best
            answer = settle(problem, seconds=seconds / 2, seed=seed, progress=progress, stop=stop, hint=hint)
            best = min(best, (answer.problem, answer.solution), key=lambda found: points(*found))
    elif seconds > 0 and _lacks(*best):
        return settle(problem, seconds=seconds, seed=seed, progress=progress, stop=stop, hint=begun.plan)
    return Answer(best[0], tidy(*best), _bound(problem) if seconds > 0 else 0.0, proved=False)


def settled_again(
    problem: Problem,
    seconds: float,
    _hint: Assignment | None,
    *,
    seed: int,
    progress: Watcher | None = None,
    stop: Stop | None = None,
) -> Answer:
    """`settle_again` as a way to settle as reckoned; its committed places are its hint."""
    return settle_again(problem, seconds=seconds, seed=seed, progress=progress, stop=stop)


def _bound(problem: Problem) -> float:
    from board.planning.bound.rising import lower_bound  # noqa: PLC0415 - the solver takes 0.4 s to import

    return lower_bound(problem)


def _freed(
    best: tuple[Problem, Assignment], free: frozenset[str], *, seconds: float, seed: int, stop: Stop | None
) -> tuple[Problem, Assignment]:
    """The better of a plan and what it becomes with some loads free to move."""
    problem, plan = best
    held, hint = held_still(problem, plan, free)
    answer = settle(held, seconds=seconds, seed=seed, stop=stop, hint=hint)
    found = let_go(problem, answer.problem, answer.solution)
    return min(best, found, key=lambda one: points(*one))


def _in_the_way(problem: Problem, begun: Seated) -> frozenset[str]:
    """The displaced parts, and those nearest in time on the pits they were on or could go on."""
    displaced = [part for part in problem.parts if part.id in begun.displaced]
    near: dict[str, int] = {}
    for part in displaced:
        for other in problem.parts:
            at = begun.plan.placed.get(other.id)
            if at is not None and not other.pinned and other.id not in begun.displaced:
                apart = _apart(begun.plan, part, other, at)
                near[other.id] = min(apart, near.get(other.id, apart))
    closest = sorted(near, key=lambda id: (near[id], id))[:_FREED_MOST]
    return frozenset([*begun.displaced, *closest])


def _apart(plan: Assignment, part: Part, other: Part, at: Placed) -> int:
    """Slots between two parts' cooks, a day more on a pit that the first was never on."""
    begin, end = cooking(other, at)
    mine = plan.placed.get(part.id)
    spans = [cooking(part, mine)] if mine else []
    if part.kept:
        spans.append((part.kept.start, part.kept.start + part.load + max(m.d90 for m in part.modes)))
    if not spans:
        spans = [(part.ready_by - max((m.d90 for m in part.modes), default=0), part.ready_by)]
    pits = {mine.mode.pit if mine else "", part.kept.pit if part.kept else ""}
    gap = min(max(0, begin - e, b - end) for b, e in spans)
    return gap + (0 if at.mode.pit in pits else 288)


def _lacks(problem: Problem, plan: Assignment) -> bool:
    """Whether some part is left out, or likelier than not late."""
    weights = problem.frame.weights
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is None:
            return True
        bare = part_points(problem, replace(part, kept=None), at)
        if bare >= weights.late_portion * part.worth > 0:
            return True
    return False
