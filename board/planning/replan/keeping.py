"""Parts put where a committed plan has them, and pins laid on them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from board.errors import PlanError
from board.house.spans import minutes_between
from board.planning.doors import opened, reckoned
from board.planning.plan import PlannedLoad
from board.planning.problem import Assignment, Kept, Mode, Part, Placed, Problem, on_slot
from board.planning.replan.limits import broken_limits, why_no_start
from board.planning.replan.outline import Outline
from board.planning.replan.pin import Pin, modes_at, pinned
from board.planning.search.insertion import cheapest_fit, rests
from board.planning.search.occupancy import LIMITS, Fit, Occupancy
from board.planning.standing import spot_id

# Longer cooks see more openings, which lengthen them again, by ever less.
_COUNTED_MOST = 4
# A cook reckoned with more openings is as much longer whether it is quick or slow, to so many minutes.
_SAME_MINUTES = 0.5


@dataclass(frozen=True)
class Seated:
    """A plan begun from the committed places, and the parts that could not have theirs."""

    plan: Assignment
    displaced: tuple[str, ...]

    def displaced_loads(self, problem: Problem) -> tuple[str, ...]:
        """The committed loads among them, by id."""
        gone = set(self.displaced)
        return tuple(part.kept.load for part in problem.parts if part.kept and part.id in gone)


def with_kept(problem: Problem, outline: Outline, pins: Sequence[Pin]) -> Problem:
    """The problem with every part told where the committed plan has it, and pinned parts held there.

    Doors are reckoned to be opened as often as in the committed plan.

    Raises:
        PlanError: for a pin that breaks a rule; names the rule.
    """
    by_load = {pin.load: pin for pin in pins}
    parts = [
        part if load is None else replace(part, kept=_kept(problem, load))
        for part, load in zip(problem.parts, outline.loads, strict=True)
    ]
    found = _reckoned_as_committed(replace(problem, parts=tuple(parts)), outline)
    held = [
        _held(found, part, load, by_load[load.id]) if load and load.id in by_load else part
        for part, load in zip(found.parts, outline.loads, strict=True)
    ]
    found = replace(found, parts=tuple(held))
    _check_together(found, [part for part in held if part.pinned])
    return found


def _kept(problem: Problem, load: PlannedLoad) -> Kept:
    start = problem.frame.grid.floor(load.load_at)
    return Kept(load.pit, load.setpoint_c, start, load.id, spot_id(load.pit, load.zone))


def _reckoned_as_committed(problem: Problem, outline: Outline) -> Problem:
    """The problem with the openings its committed cooks were reckoned with, and those that its places show.

    Longer cooks may see more of them.
    """
    problem = opened(problem, _once_reckoned(problem, outline))
    for _ in range(_COUNTED_MOST):
        kept = {part.id: at for part in problem.parts if (at := _as_committed(problem, part))}
        again = reckoned(problem, Assignment(kept, {}))
        if again is problem:
            break
        problem = again
    return problem


def _once_reckoned(problem: Problem, outline: Outline) -> Iterator[tuple[str, str, int]]:
    """The openings that the committed cooks were reckoned with: as they tell, or by their length."""
    for part, load in zip(problem.parts, outline.loads, strict=True):
        at = _as_committed(problem, part)
        if load is not None and load.openings is not None:
            yield part.id, load.pit, load.openings
        if load is None or at is None or load.openings is not None:
            continue
        each = problem.frame.pits[at.mode.pit].pit.door_minutes
        longer = _longer(problem, part, at, load)
        more = round(longer[1] / each) if each > 0 else 0
        if more > 0 and all(abs(minutes - more * each) < _SAME_MINUTES for minutes in longer):
            yield part.id, at.mode.pit, at.mode.openings + more


def _longer(problem: Problem, part: Part, at: Placed, load: PlannedLoad) -> tuple[float, float, float]:
    """By how many minutes a load's cook is longer than this place's: if quick, usually, and if slow."""
    on, here, pull = problem.frame.grid.moment(on_slot(part, at)), at.mode.cook.minutes, load.pull_at
    told = (minutes_between(on, moment) for moment in (pull.p10, pull.p50, pull.p90))
    p10, p50, p90 = (a - b for a, b in zip(told, (here.p10, here.p50, here.p90), strict=True))
    return p10, p50, p90


def _as_committed(problem: Problem, part: Part) -> Placed | None:
    """The committed place of a part, whether or not it may still have it."""
    modes = _committed_modes(problem, part)
    return Placed(modes[0], part.kept.start, part.rest_min) if part.kept and modes else None


def _committed_modes(problem: Problem, part: Part) -> list[Mode]:
    """The ways to cook a part on its committed pit and at its setpoint, those in its zone first."""
    kept = part.kept
    if kept is None:
        return []
    pin = Pin("", kept.pit, problem.frame.grid.moment(kept.start), setpoint_c=kept.setpoint_c)
    return sorted(modes_at(part, pin, None), key=lambda mode: mode.spot != kept.spot)


def _held(problem: Problem, part: Part, load: PlannedLoad, pin: Pin) -> Part:
    modes = modes_at(part, pin, load.setpoint_c)
    if pin.zone is None and pin.pit == load.pit:
        spot = spot_id(load.pit, load.zone)
        modes = sorted(modes, key=lambda mode: mode.spot != spot)
    start = slot_of(problem, pin)
    for mode in modes:
        if start in mode.starts:
            return pinned(part, mode, start, load.id)
    says = why_no_start(problem, part, pin, modes[0] if modes else None, start)
    raise PlanError(f"{pin.load} cannot be pinned there: {says}")


def slot_of(problem: Problem, pin: Pin) -> int:
    """The slot of a pin's loading.

    Raises:
        PlanError: for a time between two slots.
    """
    slot = problem.frame.grid.floor(pin.at)
    if problem.frame.grid.moment(slot) != pin.at:
        raise PlanError(f"{pin.load}: loading is planned on the full five minutes, such as :10 or :15")
    return slot


def _check_together(problem: Problem, parts: Sequence[Part]) -> None:
    """Pins must leave one another room, and what stands already."""
    occupancy = Occupancy(problem)
    for part in parts:
        mode = part.modes[0]
        fit = fit_at(occupancy, part, mode, mode.starts[0])
        if fit is None:
            at = Placed(mode, mode.starts[0], part.rest_min)
            says = broken_limits(occupancy, part, at)[0].says
            raise PlanError(f"{part.kept.load if part.kept else part.id} cannot be pinned there: {says}")
        occupancy.place(part, fit)


def seated(problem: Problem, *, as_it_stands: bool = False) -> Seated:
    """All parts at their committed places where they still fit, then the rest where each adds the least.

    Args:
        as_it_stands: leave what no longer fits for want of room or people in its place all the same, to
            look at the plan and not to mend it.
    """
    occupancy = Occupancy(problem)
    displaced = []
    for part in sorted(problem.parts, key=lambda p: (not p.pinned, p.kept.start if p.kept else 0, p.id)):
        fit = _committed_fit(occupancy, part)
        if fit is None:
            displaced.append(part)
        else:
            occupancy.place(part, fit)
    for part in sorted(displaced, key=lambda p: (p.ready_by, -p.area_cm2, p.id)):
        fit = _forced_fit(occupancy, part) if as_it_stands else None
        fit = fit or cheapest_fit(occupancy, part)
        if fit is not None:
            occupancy.place(part, fit)
    return Seated(occupancy.assignment(), tuple(part.id for part in displaced))


def _committed_fit(occupancy: Occupancy, part: Part) -> Fit | None:
    if part.kept is None:
        return None
    modes = _committed_modes(occupancy.problem, part)
    found = [fit for mode in modes if (fit := fit_at(occupancy, part, mode, part.kept.start))]
    return min(found, key=lambda fit: (fit.placed.mode.spot != modes[0].spot, fit.added), default=None)


def _forced_fit(occupancy: Occupancy, part: Part) -> Fit | None:
    """A part at its committed place whatever room or hands it lacks there; its pit still burns as it asks."""
    kept, occupancy.lifted = occupancy.lifted, frozenset(LIMITS) - {"setpoint"}
    fit = _committed_fit(occupancy, part)
    occupancy.lifted = kept
    return fit


def fit_at(occupancy: Occupancy, part: Part, mode: Mode, start: int) -> Fit | None:
    """The first rest with which a part fits at a start."""
    if start not in mode.starts:
        return None
    for rest in rests(part, part.wait_until - (start + part.load + mode.d50)):
        fit = occupancy.fit(part, Placed(mode, start, rest))
        if isinstance(fit, Fit):
            return fit
    return None


def held_still(problem: Problem, plan: Assignment, free: frozenset[str]) -> tuple[Problem, Assignment]:
    """The same plan of a problem whose other parts have no place but the one they are in."""
    parts, placed = [], dict(plan.placed)
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is None or part.id in free:
            parts.append(part)
            continue
        mode = replace(at.mode, starts=(at.start,))
        parts.append(replace(part, modes=(mode,)))
        placed[part.id] = replace(at, mode=mode)
    return replace(problem, parts=tuple(parts)), Assignment(placed, plan.runs)


def let_go(problem: Problem, held: Problem, plan: Assignment) -> tuple[Problem, Assignment]:
    """A plan of the held problem as one of the whole, every part with all its modes again."""
    whole = {part.id: part for part in problem.parts}
    parts = tuple(whole.get(part.id, part) for part in held.parts)
    modes: Mapping[str, tuple[Mode, ...]] = {part.id: part.modes for part in parts}
    placed = {id: replace(at, mode=_same(modes[id], at.mode)) for id, at in plan.placed.items()}
    return replace(problem, parts=parts), Assignment(placed, plan.runs)


def _same(modes: Sequence[Mode], held: Mode) -> Mode:
    return next((mode for mode in modes if replace(mode, starts=held.starts) == held), held)
