"""What a problem reckons with and only its plan can tell: openings of doors, and room on each shelf.

A plan is made and looked at. It is put right with at least the openings it shows and without the room that no
one shelf has, until nothing more shows: both only ever grow, so that ends. And it is searched again with just
what it shows. The cheapest that is right is taken, and never one dearer than the first plan put right.
"""

from dataclasses import replace
from itertools import islice
from typing import Protocol

from board.planning.doors import reckoned, same_mode, seen
from board.planning.problem import Assignment, Part, Placed, Problem, points
from board.planning.search.insertion import cheapest_fit, insertion, rests
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.search.progress import Answer
from board.planning.search.tidy import tidy
from board.planning.shelves import benches_of, shelved, warm_holds_of

# The share of the time kept for searching again, and how often, where doors or shelves may ask for it.
_SHARE, _ROUNDS_MOST = 0.4, 4
# One more step of the bound for so many seconds of search; a step is two seconds of work at most.
_SECONDS_A_STEP = 6.0

# A part laid again is put within so many slots of where it was.
_NEAR = (0, 2, 6)


class Settle(Protocol):
    """Settles a problem within so many seconds, from a plan of it where one is given."""

    def __call__(self, problem: Problem, *, seconds: float, hint: Assignment | None) -> Answer:
        """The settled problem."""


def settle_as_reckoned(
    problem: Problem, settle: Settle, *, seconds: float, first: Assignment | None = None
) -> Answer:
    """Settle a problem so that what it reckons with is so in its plan.

    Args:
        first: a plan to count openings in before any search; a quick one is made where there is none.
    """
    more = _may_show_more(problem)
    problem = reckoned(problem, first or insertion(problem))
    quick = _put_right(settle(problem, seconds=0.0, hint=None))
    if seconds <= 0:
        return quick
    answer = settle(quick.problem, seconds=seconds * (1 - _SHARE * more), hint=quick.solution)
    found = [_put_right(answer)]
    for _ in range(_ROUNDS_MOST):
        if found[-1] is answer:
            break
        again = seen(shelved(answer.problem, answer.solution), answer.solution)
        hint = laid_again(again, answer.solution)
        answer = settle(again, seconds=seconds * _SHARE / _ROUNDS_MOST, hint=hint)
        found.append(_put_right(answer))
    best = min([*found, quick], key=_points)
    if best.bound <= 0 and not best.proved:  # put right only, or stopped before any bound
        return replace(best, bound=_bound(best.problem, seconds))
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
    tried = (_laid(problem, plan, near) for near in _NEAR)
    return min(tried, key=lambda found: points(problem, found))


def _laid(problem: Problem, plan: Assignment, near: int) -> Assignment:
    occupancy = Occupancy(problem)
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
