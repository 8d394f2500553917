"""From a problem to a settled plan: the first at once, then a better one as long as there is time."""

from board.planning.doors import opened_too_often
from board.planning.offered import offers_every_pit
from board.planning.problem import Assignment, Problem, late_points, points
from board.planning.search.apart import APART_SECONDS, is_large, recreated_apart
from board.planning.search.gather import gather
from board.planning.search.insertion import insertion
from board.planning.search.progress import Answer, Stop, Watcher, never, nobody
from board.planning.search.recreate import recreated
from board.planning.search.rounds import ROUND_LEAST, SAME_POINTS, Budget, bettered
from board.planning.search.squeeze import squeeze
from board.planning.search.tidy import tidy
from board.planning.search.watch import Bounds, Watch

# Up to so many parts the whole problem is no larger than a neighbourhood.
WHOLE_MOST = 15
# Up to so many, all of it at once betters what rounds are stuck in: the share of the time for it.
_WHOLE_AFTER_MOST, _FOR_WHOLE = 20, 1 / 3
# The share of the time for loads placed again before fires are solved.
_FOR_TURNS, _FOR_TURNS_LARGE = 0.3, 0.7
# The share of the time for the search with parts cut in two, and with needs gathered another way.
_FOR_CUT, _FOR_GATHERED = 1 / 3, 1 / 8


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

    Waves and services that one load can feed are gathered where the plan so far is cheaper for it. Cost and
    bound are of the problem as it is cut in the end.

    Args:
        seconds: about how long to search after the first plan, counted as work; 0 keeps the first.
        seed: the same problem, seconds and seed give the same plan.
        progress: told of each better plan.
        stop: asked now and then; when true the best plan so far is the answer.
        hint: a sound plan of the problem to start from, if it is better than the first one found here.
    """
    problem, first = gather(problem, _first(problem, hint))
    watch = Watch(progress or nobody, stop or never)
    kept_back = seconds * _share_for_cut(problem, first)
    answer = _search(problem, first, watch, seconds=seconds - kept_back, seed=seed)
    cut, kept = squeeze(*gather(answer.problem, answer.solution))
    if cut is answer.problem:
        return answer
    return _search(cut, kept, watch.again(), seconds=kept_back, seed=seed)


def _share_for_cut(problem: Problem, first: Assignment) -> float:
    """The share of the time for what may be cut another way in the end."""
    placed = first.placed
    if any(part.id not in placed or late_points(problem, part, placed[part.id]) for part in problem.parts):
        return _FOR_CUT
    return _FOR_GATHERED if problem.gatherings else 0.0


def _first(problem: Problem, hint: Assignment | None) -> Assignment:
    """The hint, or a plan made at once where that is cheaper and opens no door oftener than reckoned with."""
    if hint is not None and is_large(problem):
        return hint
    plan = insertion(problem)
    if hint is None or (points(problem, plan) < points(problem, hint) and _no_oftener(problem, plan, hint)):
        return plan
    return hint


def _no_oftener(problem: Problem, plan: Assignment, than: Assignment) -> bool:
    return opened_too_often(problem, plan) <= opened_too_often(problem, than)


def _search(problem: Problem, first: Assignment, watch: Watch, *, seconds: float, seed: int) -> Answer:
    watch.better(points(problem, first))
    if seconds <= 0 or watch.stopped():
        return Answer(problem, tidy(problem, first), 0.0, proved=False)
    bounds = Bounds(problem, watch, seed=seed, seconds=seconds)
    search = _whole if len(problem.parts) <= WHOLE_MOST else _in_rounds
    plan, proved = search(problem, first, watch, seconds=seconds, seed=seed)
    bound = points(problem, plan) if proved else bounds.highest()
    near = points(problem, plan) - bound <= SAME_POINTS
    return Answer(problem, tidy(problem, plan), bound, proved=proved or near)


def _whole(
    problem: Problem, first: Assignment, watch: Watch, *, seconds: float, seed: int
) -> tuple[Assignment, bool]:
    """All of it at once, which may prove its plan the best there is; not where some pits were not offered."""
    from board.planning.solver.solve import solve  # noqa: PLC0415 - the solver takes 0.4 s to import

    every = offers_every_pit(problem.frame)
    better = watch.whole if every else lambda cost, _: watch.better(cost)
    found = solve(problem, first, seconds=seconds, seed=seed, better=better, stop=watch.stopped)
    plan = found.solution
    if plan is None or points(problem, plan) > points(problem, first) + SAME_POINTS:
        return first, False
    return plan, found.proved and every


def _in_rounds(
    problem: Problem, first: Assignment, watch: Watch, *, seconds: float, seed: int
) -> tuple[Assignment, bool]:
    """Loads placed again, then a few fires solved at a time, then all of it where it is not too large."""
    for_whole = seconds * _FOR_WHOLE if len(problem.parts) <= _WHOLE_AFTER_MOST else 0.0
    large = is_large(problem)
    for_rounds = (seconds - for_whole) * (1 - (_FOR_TURNS_LARGE if large else _FOR_TURNS))
    if for_rounds < ROUND_LEAST:
        for_rounds = 0.0
    for_turns = seconds - for_whole - for_rounds
    again = recreated_apart if large and for_turns >= APART_SECONDS else recreated
    plan = again(problem, first, Budget(for_turns, seed, watch.stopped), watch.better)
    plan = bettered(problem, plan, Budget(for_rounds, seed, watch.stopped), watch.better)
    if for_whole == 0.0 or watch.stopped():
        return plan, False
    return _whole(problem, plan, watch, seconds=for_whole, seed=seed)
