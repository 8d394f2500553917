"""What will be short, what binds, and what would cure it, each cure tried before it is told."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.house.calendar import local
from board.house.model import House
from board.house.wording import clock_time, duration, short_day
from board.planning.demand import Need
from board.planning.insertion import cheapest_fit
from board.planning.occupancy import LIMITS, Fit, Occupancy, light_slots, task_slots
from board.planning.plan import PlannedLoad, Short
from board.planning.problem import Assignment, Part, Problem, off_slot, on_slot
from board.planning.tidy import occupied


@dataclass(frozen=True)
class Case:
    """A part left out of a plan, and the plan around it."""

    house: House
    problem: Problem
    plan: Assignment
    part: Part

    def when(self, slot: int) -> str:
        """A slot in the house's words, with its day where it is not the day of the need."""
        moment = self.problem.frame.grid.moment(slot)
        clock, day = clock_time(moment, self.house), local(moment, self.house).date()
        same = day == local(self.part.need.occasion.at, self.house).date()
        return clock if same else f"{clock} on {short_day(day)}"


def shortfalls(
    house: House,
    problem: Problem,
    plan: Assignment,
    needs: Sequence[Need],
    loads: Sequence[PlannedLoad],
) -> tuple[Short, ...]:
    """Every need that lacks portions or gets them late, with why and what would help."""
    found: list[Short] = []
    for need in needs:
        here = [load for load in loads if _serves(load, need)]
        missing = need.portions - sum(load.portions for load in here)
        if missing > 0:
            part = next(p for p in problem.parts if p.need is need and p.id not in plan.placed)
            why, cures = _why(Case(house, problem, plan, part))
            found += [Short(who, need.item, n, why, cures) for who, n in _lacking(need, missing)]
        found += _late(house, need, here)
    return tuple(found)


def _serves(load: PlannedLoad, need: Need) -> bool:
    return load.item == need.item and bool({o.id for o, _ in need.serves} & set(load.services))


def _lacking(need: Need, missing: int) -> list[tuple[str, int]]:
    """Missing portions by occasion: the last to be served goes without first."""
    found = []
    for occasion, portions in reversed(need.serves):
        n = min(missing, portions)
        if n:
            found.append((occasion.id, n))
        missing -= n
    return found[::-1]


def _late(house: House, need: Need, loads: Sequence[PlannedLoad]) -> list[Short]:
    late = [load for load in loads if load.spare_minutes_p50 < 0]
    return [
        Short(
            load.services[0],
            need.item,
            min(load.portions, need.portions),
            f"ready about {clock_time(load.ready_at.p50, house)}, {duration(-load.spare_minutes_p50)} late",
            (f"promise it for {clock_time(load.ready_at.p90, house)}",),
        )
        for load in late
    ]


def _why(case: Case) -> tuple[str, tuple[str, ...]]:
    hopeless = case.problem.hopeless.get(case.part.id)
    if hopeless is not None:
        return hopeless.why, hopeless.cures
    binding = [(limit, fit) for limit in LIMITS if (fit := _fits_without(case, frozenset({limit})))]
    if not binding:
        return "no one limit stands in the way: several are full at once", ()
    told = [_limit_told(case, limit, fit) for limit, fit in binding]
    return told[0][0], tuple(cure for _, cure in told)


def _fits_without(case: Case, lifted: frozenset[str]) -> Fit | None:
    """Where the part would go if these limits were lifted: planning with the cure, in short."""
    known = occupied(case.problem, case.plan)
    free = Occupancy(case.problem, lifted)
    for pit, runs in known.runs.items():
        free.burn(pit, runs)
    for part in case.problem.parts:
        if (at := case.plan.placed.get(part.id)) is not None:
            free.place(part, Fit(at, known.runs[at.mode.pit], 0.0))
    return cheapest_fit(free, case.part)


def _limit_told(case: Case, limit: str, fit: Fit) -> tuple[str, str]:
    part, at, pit = case.part, fit.placed, case.house.pits[fit.placed.mode.pit]
    begin, end = at.start, on_slot(part, at) + at.mode.d90
    known = occupied(case.problem, case.plan)
    if limit == "pit room":
        lacking = part.area_cm2 - int(known.pit_left[pit.id][begin:end].min())
        span = f"from {case.when(begin)} to {case.when(end)}"
        return (
            f"{pit.name} is full when {part.need.cut.name} must cook",
            f"{lacking / 10_000:.2f} m² more on {pit.name} {span}",
        )
    if limit == "setpoint":
        return (
            f"{pit.name} burns at another setpoint when {part.need.cut.name} must cook",
            f"keep {pit.name} at {at.mode.setpoint_c:.0f} °C from {case.when(begin)} to {case.when(end)}",
        )
    if limit in {"hands", "attention"}:
        return _people_told(case, fit, known, limit)
    return _waiting_told(case, fit, known, limit)


def _people_told(case: Case, fit: Fit, known: Occupancy, limit: str) -> tuple[str, str]:
    part, at = case.part, fit.placed
    lights = light_slots(case.problem, at.mode.pit, fit.runs, known.runs[at.mode.pit])
    left = known.hands_left if limit == "hands" else known.attention_left
    need = 1 if limit == "hands" else case.problem.frame.weights.task_attention_percent
    spans = [s for s in task_slots(part, at) + lights if s[1] > s[0] and left[s[0] : s[1]].min() < need]
    first, last = spans[0] if spans else (at.start, at.start + part.load)
    span = f"from {case.when(first)} to {case.when(last)}"
    words = "nobody has hands free" if limit == "hands" else "the crew has all it can watch"
    return f"{words} for {part.need.cut.name} {span}", f"one more person {span}"


def _waiting_told(case: Case, fit: Fit, known: Occupancy, limit: str) -> tuple[str, str]:
    part, off = case.part, off_slot(case.part, fit.placed)
    rested = off + fit.placed.rest
    begin, end = (off, rested) if limit == "bench" else (rested, max(rested, part.ready_by))
    left: NDArray[np.int64] = known.bench_left if limit == "bench" else known.hold_left
    lacking = part.area_cm2 - int(left[begin:end].min()) if end > begin else part.area_cm2
    span = f"from {case.when(begin)} to {case.when(end)}"
    return (
        f"the {limit} is full when {part.need.cut.name} comes off",
        f"{lacking / 10_000:.2f} m² more {limit} {span}",
    )
