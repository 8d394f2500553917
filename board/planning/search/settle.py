"""From a problem to a settled plan: the first at once, then a better one as long as there is time."""

from functools import partial

from board.planning.problem import Assignment, Problem, points
from board.planning.search.gather import gather
from board.planning.search.insertion import insertion
from board.planning.search.progress import Answer, Progress, Stop, Watcher, nobody
from board.planning.search.squeeze import squeeze
from board.planning.search.tidy import tidy


def settle(
    problem: Problem,
    *,
    seconds: float,
    seed: int,
    progress: Watcher | None = None,
    stop: Stop | None = None,
    hint: Assignment | None = None,
) -> Answer:
    """Search; and where a part finds no place whole, search again with it cut in two.

    Waves and services that one load can feed are gathered where the first plan is cheaper for it. Cost and
    bound are of the problem as it is cut in the end.

    Args:
        seconds: about how long to search after the first plan, counted as work; 0 keeps the first.
        seed: the same problem, seconds and seed give the same plan.
        progress: told of each better plan.
        stop: asked now and then; when true the best plan so far is the answer.
        hint: a sound plan of the problem to start from, if it is better than the first one found here.
    """
    problem, first = gather(problem, _first(problem, hint))
    answer = _search(problem, first, seconds=seconds, seed=seed, progress=progress, stop=stop)
    cut, kept = squeeze(answer.problem, answer.solution)
    if cut is answer.problem:
        return answer
    return _search(cut, kept, seconds=seconds, seed=seed, progress=progress, stop=stop)


def _first(problem: Problem, hint: Assignment | None) -> Assignment:
    plans = [plan for plan in (hint, insertion(problem)) if plan is not None]
    return min(plans, key=lambda plan: points(problem, plan))


def _search(
    problem: Problem,
    first: Assignment,
    *,
    seconds: float,
    seed: int,
    progress: Watcher | None,
    stop: Stop | None,
) -> Answer:
    cost = points(problem, first)
    tell = progress or nobody
    tell(Progress(cost, 0.0, "first plan"))
    if seconds <= 0 or (stop is not None and stop()):
        return Answer(problem, tidy(problem, first), 0.0, proved=False)
    from board.planning.bound.rising import lower_bound  # noqa: PLC0415 - the solver takes 0.4 s to import
    from board.planning.solver.solve import solve  # noqa: PLC0415

    found = solve(problem, first, seconds=seconds, seed=seed, better=partial(_tell_better, tell))
    bound = found.bound if found.proved else max(found.bound, lower_bound(problem))
    best = found.solution
    if best is None or points(problem, best) > cost:
        return Answer(problem, tidy(problem, first), bound, proved=False)
    return Answer(problem, tidy(problem, best), bound, found.proved)


def _tell_better(tell: Watcher, cost: float, bound: float) -> None:
    tell(Progress(cost, bound, "better plan"))
