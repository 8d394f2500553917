"""A first plan at once: each part in turn where it adds the least."""

from collections.abc import Iterable

from board.planning.grid import SLOT_MINUTES
from board.planning.problem import Assignment, Part, Placed, Problem, points
from board.planning.search.occupancy import Fit, Occupancy


def insertion(problem: Problem, lifted: frozenset[str] = frozenset()) -> Assignment:
    """Place the parts in two orders, each at its cheapest fit, and keep the better plan."""
    orders = (_longest_first(problem.parts), _by_need(problem.parts))
    plans = [_place_all(problem, order, lifted) for order in orders]
    return min(plans, key=lambda plan: points(problem, plan))


def _place_all(problem: Problem, parts: Iterable[Part], lifted: frozenset[str]) -> Assignment:
    occupancy = Occupancy(problem, lifted)
    for part in parts:
        fit = cheapest_fit(occupancy, part)
        if fit is not None:
            occupancy.place(part, fit)
    return occupancy.assignment()


def cheapest_fit(occupancy: Occupancy, part: Part) -> Fit | None:
    """The fit of a part that adds the fewest points, or none below leaving it out."""
    best: Fit | None = None
    unserved = occupancy.problem.frame.weights.unserved_portion * part.worth
    for mode in part.modes:
        for start in reversed(mode.starts):
            for rest in rests(part, part.wait_until - (start + part.load + mode.d50)):
                fit = occupancy.fit(part, Placed(mode, start, rest))
                if isinstance(fit, Fit) and fit.added < (best.added if best else unserved):
                    best = fit
    return best


def rests(part: Part, spare: int) -> tuple[int, ...]:
    """Rests worth trying, in slots: the shortest, and the one that leaves no hold, within the rules.

    Args:
        spare: slots from pulling until its last occasion has it.
    """
    longest = min(max(spare, part.rest_min), part.rest_max)
    kept = [r for r in (part.rest_min, longest) if spare - r <= part.hold_max]
    return tuple(dict.fromkeys(kept))


def _longest_first(parts: Iterable[Part]) -> list[Part]:
    return sorted(parts, key=lambda p: (-min((m.d50 for m in p.modes), default=0), p.ready_by, p.id))


def _by_need(parts: Iterable[Part]) -> list[Part]:
    return sorted(parts, key=lambda p: (p.ready_by // (60 // SLOT_MINUTES), -p.area_cm2, p.id))
