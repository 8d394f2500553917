"""A first plan at once: each part in turn where it adds the least."""

from collections.abc import Container, Iterable

from board.planning.problem import Assignment, Mode, Part, Placed, Problem, points
from board.planning.search.fires import Fire
from board.planning.search.judge import Chance, Judge
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.search.orders import ORDERS
from board.planning.search.shapes import Shape, Shapes

# Up to so many parts every order is tried; of more, one, and what it does badly is mended afterwards.
_FEW = 150
# Points closer together than this are the same: sums of the same terms in another order.
_SAME_POINTS = 1e-6


def insertion(problem: Problem, lifted: frozenset[str] = frozenset()) -> Assignment:
    """Place the parts in several orders, each at its cheapest fit, and keep the cheapest plan."""
    shapes = Shapes(problem)
    orders = ORDERS if len(problem.parts) <= _FEW else ORDERS[:1]
    tried = (_place_all(Occupancy(problem, lifted, shapes), order(problem.parts)) for order in orders)
    return min(tried, key=lambda plan: points(problem, plan))


def _place_all(occupancy: Occupancy, parts: Iterable[Part]) -> Assignment:
    for part in parts:
        fit = cheapest_fit(occupancy, part)
        if fit is not None:
            occupancy.place(part, fit)
    return occupancy.assignment()


def cheapest_fit(occupancy: Occupancy, part: Part, pits: Container[str] | None = None) -> Fit | None:
    """The fit of a part that adds the fewest points, or none below leaving it out.

    Args:
        pits: the only pits to look at; without any, all of them.
    """
    best: Fit | None = None
    least = occupancy.problem.frame.weights.unserved_portion * part.worth
    judge = Judge(occupancy, part)
    for bound, mode, shape in _most_promising(occupancy, part, pits):
        if bound >= least - _SAME_POINTS:
            break
        fit = _cheapest_start(judge, mode, shape, least)
        if fit is not None:
            best, least = fit, fit.added
    return best


def _most_promising(
    occupancy: Occupancy, part: Part, pits: Container[str] | None
) -> list[tuple[float, Mode, Shape]]:
    """The modes with the fewest points each could add, the fewest first; cold pits that are alike, once."""
    found, seen = [], set()
    frame = occupancy.problem.frame
    for mode, shape in occupancy.shapes.of(part):
        if pits is not None and mode.pit not in pits:
            continue
        room = frame.pits[mode.pit]
        if not occupancy.runs[mode.pit] and not room.shut.any():
            lengths = (room.warm, room.light, room.fuel_points, room.tend_percent)
            key = (id(shape), frame.spots[mode.spot].area_cm2, *lengths)
            if key in seen:
                continue
            seen.add(key)
        bound = shape.least + _least_fire(occupancy.fire(mode.pit), shape)
        found.append((bound, mode, shape))
    return sorted(found, key=lambda entry: entry[0])


def _least_fire(fire: Fire, shape: Shape) -> float:
    """Points that the fire adds at least, wherever the part starts."""
    w, room, stay = fire.problem.frame.weights, fire.room, shape.stay
    least = w.lighting + room.fuel_points * (room.warm + stay.size)
    for run in fire.runs:
        least = min(least, w.change_over + room.fuel_points * stay.size)
        if run.setpoint_c == stay.setpoint_c:
            past = max(0, shape.first + stay.size - run.end)
            ahead = max(0, run.begin - shape.last)
            least = min(least, room.fuel_points * (past + ahead) if stay.turn is None else 0.0)
    return least


def _cheapest_start(judge: Judge, mode: Mode, shape: Shape, below: float) -> Fit | None:
    """The cheapest start of a mode that truly fits, of those that add less than `below`."""
    for chance in judge.chances(mode, shape, below - _SAME_POINTS):
        fit = _fit_at(judge, mode, chance)
        if fit is not None:
            return fit
    return None


def _fit_at(judge: Judge, mode: Mode, chance: Chance) -> Fit | None:
    part = judge.part
    for rest in rests(part, part.wait_until - (chance.start + part.load + mode.d50)):
        fit = judge.occupancy.fit(part, Placed(mode, chance.start, rest), chance.way)
        if isinstance(fit, Fit):
            return fit
    return None


def rests(part: Part, spare: int) -> tuple[int, ...]:
    """Rests worth trying, in slots: the shortest, and the one that leaves no hold, within the rules.

    Args:
        spare: slots from pulling until its last occasion has it.
    """
    longest = min(max(spare, part.rest_min), part.rest_max)
    kept = [r for r in (part.rest_min, longest) if spare - r <= part.hold_max]
    return tuple(dict.fromkeys(kept))
