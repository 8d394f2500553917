"""What a problem reckons with and only its plan can tell: openings of doors, and room on each shelf.

A first plan expects the openings that quicker plans show, on every pit. The search of a large day starts
with one opening to spare for each part and takes no step that opens a door oftener than was reckoned with.
What a plan shows beyond that is put right, with at least the openings it shows and without the room that no
one shelf has, until nothing more shows: both only ever grow, so that ends. And it is searched again with
just what it shows. The cheapest that is right is taken, and never one dearer than the first plan put right.
"""

from dataclasses import replace
from itertools import islice
from typing import Protocol

from board.planning.doors import foreseen, loosened, reckoned, same_mode, seen
from board.planning.problem import Assignment, Part, Placed, Problem, points
from board.planning.search.apart import is_large
from board.planning.search.insertion import cheapest_fit, insertion, rests
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.search.progress import Answer, Progress, Stop, Watcher, never, nobody
from board.planning.search.settle import WHOLE_MOST
from board.planning.search.shapes import Shapes
from board.planning.search.tidy import tidy
from board.planning.shelves import benches_of, shelved, warm_holds_of

# Searches with openings to spare, at most: what each shows is reckoned with in the next.
_EASED_MOST, _EASED_SECONDS = 6, 1.5
# In a large house, which is searched once, its first plan has so many openings to spare.
_TO_SPARE = 2
# The share of the time kept for searching again, how often at most, and the fewest seconds worth a search.
_SHARE, _ROUNDS_MOST, _ROUND_SECONDS = 0.4, 4, 1.0
# Parts are placed again so often at most, and so many in all.
_PASSES_MOST, _PARTS_PLACED_MOST = 3, 300
# One more step of the bound for so many seconds of search; a step is two seconds of work at most.
_SECONDS_A_STEP = 6.0

# A part laid again is put within so many slots of where it was.
_NEAR = (0, 2, 6)


class Settle(Protocol):
    """Settles a problem within so many seconds, from a plan of it where one is given."""

    def __call__(
        self,
        problem: Problem,
        *,
        seconds: float,
        hint: Assignment | None = None,
        progress: Watcher | None = None,
        stop: Stop | None = None,
    ) -> Answer:
        """The settled problem."""


def settle_as_reckoned(
    problem: Problem,
    settle: Settle,
    *,
    seconds: float,
    first: Assignment | None = None,
    progress: Watcher | None = None,
    stop: Stop | None = None,
) -> Answer:
    """Settle a problem so that what it reckons with is so in its plan.

    Args:
        first: a plan to count openings in before any search; quick ones are made where there is none.
        progress: told of the first plan that is right, and then of each better one.
        stop: asked now and then; when true the best plan so far is the answer.
    """
    tell, stopped = progress or nobody, stop or never
    quick = _quick(problem, settle, first, tell, stopped)
    if seconds <= 0 or stopped():
        return quick
    more = _may_show_more(problem)
    large = is_large(problem)
    ease = more and first is None and len(problem.parts) > WHOLE_MOST and not large
    answer, found = quick, list[Answer]()
    for share in _shares(seconds, ease=ease, rounds=_ROUNDS_MOST if more and not large else 0):
        eased = loosened(answer.problem) if ease else answer.problem
        hint = answer.solution if eased is answer.problem else laid_again(eased, answer.solution)
        answer = settle(eased, seconds=seconds * share, hint=hint, progress=progress, stop=stop)
        right = _put_right(answer)
        shown = seen(shelved(answer.problem, answer.solution), answer.solution)
        found.append(right)
        if shown is answer.problem or (right is answer and not ease):
            break
        answer = _put_right(Answer(shown, laid_again(shown, answer.solution), 0.0, proved=False))
        found.append(answer)
        if stopped():
            break
    best = min([*found, quick], key=_points)
    if best.bound > 0 or best.proved or (large and stopped()):
        return best
    # put right only; whoever has stopped waits for no more than the quick bound
    return replace(best, bound=_bound(best.problem, 0.0 if stopped() else seconds))


def _shares(seconds: float, *, ease: bool, rounds: int) -> list[float]:
    """The shares of the time of each search: alike where each has openings to spare, else unlike.

    Args:
        rounds: how often at most it is searched again.
    """
    if ease:
        alike = max(1, min(_EASED_MOST, int(seconds / _EASED_SECONDS)))
        return [1 / alike] * alike
    again = min(rounds, max(1, int(seconds * _SHARE / _ROUND_SECONDS)))
    return [1 - _SHARE, *[_SHARE / again] * again] if again else [1.0]


def _quick(
    problem: Problem, settle: Settle, first: Assignment | None, tell: Watcher, stopped: Stop
) -> Answer:
    """A plan that is right, without search.

    Where nothing is known beforehand, parts are placed again with the openings that the plan before shows
    for every pit they could go to: a few times, for openings move with the plan.
    """
    if first is not None:
        again = reckoned(problem, first)
        best = _put_right(settle(again, seconds=0.0, hint=first if again is problem else None))
        tell(Progress(_points(best), 0.0, "first plan"))
        return best
    spare = _TO_SPARE if is_large(problem) else 0
    answer = settle(foreseen(problem, insertion(problem), spare), seconds=0.0)
    best = _put_right(answer)
    tell(Progress(_points(best), 0.0, "first plan"))
    for _ in range(min(_PASSES_MOST, _PARTS_PLACED_MOST // max(1, len(problem.parts)))):
        again = foreseen(answer.problem, answer.solution)
        if again is answer.problem or stopped():
            break
        answer = Answer(again, tidy(again, insertion(again)), 0.0, proved=False)
        if _points(answer) < _points(best):
            best = min(best, _put_right(answer), key=_points)
    return best


def _put_right(answer: Answer) -> Answer:
    """The answer as it is where its problem reckons with what its plan shows, or else put right."""
    problem, plan = put_right(answer.problem, answer.solution)
    if problem is answer.problem:
        return answer
    return Answer(problem, plan, 0.0, proved=False)


def _points(answer: Answer) -> float:
    return points(answer.problem, answer.solution)


def _may_show_more(problem: Problem) -> bool:
    """Whether a plan may show what its problem did not reckon with: doors that cost time, room in corners."""
    house = problem.frame.house
    doors = any(pit.door_minutes > 0 for pit in house.pits.values())
    return doors or max(len(benches_of(house)), len(warm_holds_of(house))) > 1


def _bound(problem: Problem, seconds: float) -> float:
    """As high a bound as a share of the search's time allows, counted in steps."""
    from board.planning.bound.rising import rising_bounds  # noqa: PLC0415 - the solver takes 0.4 s to import

    steps = 1 + int(seconds / _SECONDS_A_STEP)
    return list(islice(rising_bounds(problem, seed=0), steps))[-1]


def _again(problem: Problem, plan: Assignment) -> Problem:
    """The problem with what its plan shows; the same one where that was reckoned with."""
    return reckoned(shelved(problem, plan), plan)


def put_right(problem: Problem, plan: Assignment) -> tuple[Problem, Assignment]:
    """A plan changed after its search, with what it then shows reckoned with."""
    while (again := _again(problem, plan)) is not problem:
        problem, plan = again, tidy(again, laid_again(again, plan))
    return problem, plan


def laid_again(problem: Problem, plan: Assignment) -> Assignment:
    """A plan's parts where they were, as far as they still fit; the others where they add the least.

    Longer cooks make others give way: by how much at most is tried in turn, the cheapest is kept.
    """
    shapes = Shapes(problem)
    ways = _NEAR[:1] if is_large(problem) else _NEAR
    tried = (_laid(problem, plan, near, shapes) for near in ways)
    return min(tried, key=lambda found: points(problem, found))


def _laid(problem: Problem, plan: Assignment, near: int, shapes: Shapes) -> Assignment:
    occupancy = Occupancy(problem, known=shapes)
    left = []
    for part in sorted(problem.parts, key=lambda p: plan.placed[p.id].start if p.id in plan.placed else 0):
        there = _there(occupancy, part, plan.placed.get(part.id), near)
        if there is not None:
            occupancy.place(part, there)
        else:
            left.append(part)
    for part in left:
        fit = cheapest_fit(occupancy, part)
        if fit is not None:
            occupancy.place(part, fit)
    return occupancy.assignment()


def _there(occupancy: Occupancy, part: Part, at: Placed | None, near: int) -> Fit | None:
    """The cheapest fit of a part within so many slots of where it was."""
    mode = None if at is None else next((m for m in part.modes if same_mode(m, at.mode)), None)
    if at is None or mode is None:
        return None
    starts = (start for start in mode.starts if abs(start - at.start) <= near)
    places = (
        Placed(mode, start, rest)
        for start in starts
        for rest in rests(part, part.wait_until - (start + part.load + mode.d50))
    )
    fits = (occupancy.fit(part, place) for place in places)
    return min((fit for fit in fits if isinstance(fit, Fit)), key=lambda fit: fit.added, default=None)
