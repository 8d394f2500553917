"""What moving one load by hand would do: its chance and lateness, what the plan costs, what it breaks."""

import math
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from board.errors import PlanError
from board.house.spans import TimeSpan, minutes_between
from board.planning.costs import cost_parts
from board.planning.finishing import finish_minutes
from board.planning.part_making import part_of
from board.planning.plan import CostParts, Risk
from board.planning.problem import Assignment, Mode, Part, Placed, Problem, on_slot
from board.planning.replan.desk import Desk
from board.planning.replan.keeping import fit_at, slot_of
from board.planning.replan.limits import Broken, broken_limits, why_no_start
from board.planning.replan.pin import Pin, check_place, modes_at
from board.planning.risk import risks
from board.planning.search.occupancy import LIMITS, Fit, Occupancy
from board.planning.search.tidy import occupied


@dataclass(frozen=True, slots=True)
class Place:
    """How a load stands at one place: loaded, likely ready, minutes to spare, its chance.

    `costs` are of the whole plan with it there, `services` the chances of those it serves; its fire is lit at
    `light_at`, or burns by then, and it is wrapped, where it is, at `wrap_at`.
    """

    pit: str
    zone: str | None
    setpoint_c: float
    load_at: datetime
    ready_at: datetime
    spare_minutes: float
    chance: float
    costs: CostParts
    services: tuple[Risk, ...]
    light_at: datetime
    wrap_at: datetime | None
    pull_at: TimeSpan

    @property
    def cost(self) -> float:
        """What the whole plan costs with the load here, but for the moving."""
        return self.costs.total


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A load where it is and where it would be, and every limit that would be broken there."""

    pin: Pin
    pieces: int
    before: Place
    after: Place
    broken: tuple[Broken, ...]


def what_if(desk: Desk, pin: Pin, *, pieces: int | None = None) -> WhatIf:
    """Try a load elsewhere, or with more or fewer pieces; the plan itself stays as it is.

    Raises:
        PlanError: for a load that cannot be moved any more, or a place that its cut cannot cook at.
    """
    problem, part = desk.problem, desk.part(pin.load)
    check_place(problem.frame.house, pin)
    here = desk.plan.placed[part.id]
    start = slot_of(problem, pin)
    resized = part if pieces is None or pieces == part.pieces else with_pieces(problem, part, pieces)
    mode = _mode(problem, resized, pin, here, start)
    others = _others(desk, part, here)
    fit = fit_at(others, resized, mode, start)
    at = fit.placed if fit else Placed(mode, start, part.rest_min)
    broken = () if fit else _broken(others, resized, pin, at)
    # that a person moves it by hand is no cost of the place
    there = replace(resized, kept=None)
    moved = replace(problem, parts=tuple(there if p is part else p for p in problem.parts))
    lacking = problem.frame.weights.unserved_portion * max(0.0, part.worth - resized.worth)
    stays = (at.mode, at.start, resized) == (here.mode, here.start, part)
    after = desk.plan if stays else _placed(others, resized, at, fit)
    costs = cost_parts(moved, after)
    costs = replace(costs, unserved=costs.unserved + lacking, moved=0.0)
    return WhatIf(
        replace(pin, setpoint_c=mode.setpoint_c, zone=_zone(problem, mode)),
        resized.pieces,
        _stands(desk.plan, problem, part, here, costs=desk.costs, chances=desk.risks),
        _stands(after, moved, resized, at, costs=costs, chances=risks(moved, after)),
        broken,
    )


def with_pieces(problem: Problem, part: Part, pieces: int) -> Part:
    """The part with another number of pieces; portions nobody cooks then are lacking, and cost so.

    Raises:
        PlanError: for no piece at all.
    """
    if pieces < 1:
        raise PlanError(f"{pieces} pieces: a load has at least one")
    share = part.share
    given = math.floor(pieces * part.need.portions_a_piece + 1e-9)
    due = min(share.due, given)
    other = part_of(problem.frame, replace(share, pieces=pieces, portions=given, due=due), "resized")
    return replace(other, id=part.id, kept=part.kept)


def _mode(problem: Problem, part: Part, pin: Pin, here: Placed, start: int) -> Mode:
    modes = modes_at(part, pin, here.mode.setpoint_c)
    if not modes:
        raise PlanError(f"{pin.load}: {why_no_start(problem, part, pin, None, start)}")
    if pin.zone is None and pin.pit == here.mode.pit:
        modes = sorted(modes, key=lambda mode: mode.spot != here.mode.spot)
    return next((mode for mode in modes if start in mode.starts), modes[0])


def _others(desk: Desk, part: Part, here: Placed) -> Occupancy:
    """Everything else in its place, the load's pit burning for the others alone."""
    others = occupied(desk.problem, desk.plan, without=part.id)
    pit = here.mode.pit
    mine = sorted(others.meat[pit].values(), key=lambda pair: (pair[1].start, pair[0].id))
    for other, _ in mine:
        others.take_off(other)
    kept = others.runs[pit]
    others.burn(pit, desk.problem.frame.taken.runs[pit])
    for other, at in mine:
        fit = others.fit(other, at)
        others.place(other, fit if isinstance(fit, Fit) else Fit(at, kept, 0.0))
    return others


def _broken(others: Occupancy, part: Part, pin: Pin, at: Placed) -> tuple[Broken, ...]:
    """What the place breaks by itself, and beside the others."""
    problem = others.problem
    beside = broken_limits(others, part, at) if 0 <= at.start < problem.frame.grid.slots else ()
    if at.start in at.mode.starts:
        return beside
    says = why_no_start(problem, part, pin, at.mode, at.start)
    return (Broken("start", problem.frame.grid.moment(at.start), (), says), *beside)


def _placed(others: Occupancy, part: Part, at: Placed, fit: Fit | None) -> Assignment:
    """The plan with the load there, whatever it breaks."""
    if fit is None:
        kept, others.lifted = others.lifted, frozenset(LIMITS)
        lifted = others.fit(part, at)
        others.lifted = kept
        fit = lifted if isinstance(lifted, Fit) else Fit(at, others.runs[at.mode.pit], 0.0)
    plan = others.assignment()
    return Assignment(plan.placed | {part.id: fit.placed}, plan.runs | {at.mode.pit: fit.runs})


def _zone(problem: Problem, mode: Mode) -> str | None:
    return problem.frame.spots[mode.spot].id.partition("/")[2] or None


def _stands(
    plan: Assignment,
    problem: Problem,
    part: Part,
    at: Placed,
    *,
    costs: CostParts,
    chances: tuple[Risk, ...],
) -> Place:
    grid, minutes = problem.frame.grid, at.mode.cook.minutes
    on = grid.moment(on_slot(part, at))
    after = finish_minutes(part.finish, part.pieces) + part.need.cut.rest_minutes[0]
    left = minutes_between(on, part.share.first.at) - after
    ready = left - minutes.p50
    fires = (run for run in plan.runs[at.mode.pit] if run.begin <= at.start < run.end and not run.known)
    fire = next(fires, None)
    return Place(
        at.mode.pit,
        _zone(problem, at.mode),
        at.mode.setpoint_c,
        grid.moment(at.start),
        part.share.first.at - timedelta(minutes=ready),
        ready,
        at.mode.cook.chance(left),
        costs,
        tuple(risk for risk in chances if risk.service in part.services),
        grid.moment(fire.begin if fire else at.start),
        grid.moment(on_slot(part, at) + at.mode.wrap) if at.mode.wrap is not None else None,
        TimeSpan.after(on, minutes),
    )
