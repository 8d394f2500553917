"""Parts put where a committed plan has them, and pins laid on them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from board.errors import PlanError
from board.planning.plan import PlannedLoad
from board.planning.problem import Assignment, Kept, Mode, Part, Placed, Problem
from board.planning.replan.limits import broken_limits, why_no_start
from board.planning.replan.outline import Outline
from board.planning.replan.pin import Pin, modes_at, pinned
from board.planning.search.insertion import cheapest_fit, rests
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.standing import spot_id


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

    Raises:
        PlanError: for a pin that breaks a rule; names the rule.
    """
    by_load = {pin.load: pin for pin in pins}
    parts = []
    for part, load in zip(problem.parts, outline.loads, strict=True):
        if load is None:
            parts.append(part)
        elif load.id in by_load:
            parts.append(_held(problem, part, load, by_load[load.id]))
        else:
            start = problem.frame.grid.floor(load.load_at)
            parts.append(replace(part, kept=Kept(load.pit, load.setpoint_c, start, load.id)))
    found = replace(problem, parts=tuple(parts))
    _check_together(found, [part for part in parts if part.pinned])
    return found


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


def seated(problem: Problem) -> Seated:
    """All parts at their committed places where they still fit, then the rest where each adds the least."""
    occupancy = Occupancy(problem)
    displaced = []
    for part in sorted(problem.parts, key=lambda p: (not p.pinned, p.kept.start if p.kept else 0, p.id)):
        fit = _committed_fit(occupancy, part)
        if fit is None:
            displaced.append(part)
        else:
            occupancy.place(part, fit)
    for part in sorted(displaced, key=lambda p: (p.ready_by, -p.area_cm2, p.id)):
        fit = cheapest_fit(occupancy, part)
        if fit is not None:
            occupancy.place(part, fit)
    return Seated(occupancy.assignment(), tuple(part.id for part in displaced))


def _committed_fit(occupancy: Occupancy, part: Part) -> Fit | None:
    if part.kept is None:
        return None
    pin = Pin("", part.kept.pit, occupancy.problem.frame.grid.moment(part.kept.start))
    fits = [
        fit_at(occupancy, part, mode, part.kept.start)
        for mode in modes_at(part, replace(pin, setpoint_c=part.kept.setpoint_c), None)
    ]
    found = [fit for fit in fits if fit is not None]
    return min(found, key=lambda fit: fit.added) if found else None


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
