"""What will be short, what binds, and what would cure it, found by planning without each limit in turn."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.house.calendar import local
from board.house.model import House
from board.house.units import format_temperature
from board.house.wording import clock_time, duration, in_list, short_day
from board.planning.area import CM2_A_M2
from board.planning.demand import Need
from board.planning.plan import PlannedLoad, Short
from board.planning.problem import Assignment, Part, Problem
from board.planning.search.insertion import cheapest_fit
from board.planning.search.occupancy import LIMITS, Occupancy
from board.planning.search.tidy import occupied


@dataclass(frozen=True)
class Case:
    """The parts of one need left out of a plan, and the plan around them."""

    house: House
    problem: Problem
    plan: Assignment
    need: Need
    parts: tuple[Part, ...]

    def when(self, slot: int) -> str:
        """A slot in the house's words, with its day where it is not the day of the need."""
        moment = self.problem.frame.grid.moment(slot)
        clock, day = clock_time(moment, self.house), local(moment, self.house).date()
        same = day == local(self.need.occasion.at, self.house).date()
        return clock if same else f"{clock} on {short_day(day)}"


@dataclass(frozen=True)
class Lifted:
    """A plan with one limit lifted: what it holds then, and the portions it serves of those missing."""

    limit: str
    occupancy: Occupancy
    portions: int


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
        lacking = _lacking(need, here)
        if lacking:
            parts = tuple(p for p in problem.parts if p.need is need and p.id not in plan.placed)
            why, cures = _why(Case(house, problem, plan, need, parts), sum(n for _, n in lacking))
            found += [Short(who, need.item, n, why, cures) for who, n in lacking]
        found += _late(house, here, need.portions - sum(n for _, n in lacking))
    return tuple(found)


def _serves(load: PlannedLoad, need: Need) -> bool:
    return load.item == need.item and bool({due.occasion.id for due in need.serves} & set(load.services))


def _lacking(need: Need, loads: Sequence[PlannedLoad]) -> list[tuple[str, int]]:
    """Missing portions by occasion, when each load serves those it is for, the first of them first."""
    missing: dict[str, int] = {}
    for due in need.serves:
        missing[due.occasion.id] = missing.get(due.occasion.id, 0) + due.portions
    for load in loads:
        left = load.portions
        for service in load.services:
            given = min(left, missing.get(service, 0))
            missing[service] = missing.get(service, 0) - given
            left -= given
    return [(who, n) for who, n in missing.items() if n > 0]


def _late(house: House, loads: Sequence[PlannedLoad], wanted: int) -> list[Short]:
    """Portions that only late loads give, of those wanted that are cooked at all."""
    late = [load for load in loads if load.spare_minutes_p50 < -1]
    left = wanted - sum(load.portions for load in loads if load not in late)
    found = []
    for load in late:
        portions = min(load.portions, left)
        if portions > 0:
            by = duration(-load.spare_minutes_p50)
            why = f"ready about {clock_time(load.ready_at.p50, house)}, {by} late"
            cure = f"promise it for {clock_time(load.ready_at.p90, house)}"
            found.append(Short(load.services[0], load.item, portions, why, (cure,)))
        left -= load.portions
    return found


def _why(case: Case, missing: int) -> tuple[str, tuple[str, ...]]:
    hopeless = [case.problem.hopeless[p.id] for p in case.parts if p.id in case.problem.hopeless]
    if hopeless:
        return hopeless[0].why, hopeless[0].cures
    helping = [lifted for limit in LIMITS if (lifted := _without(case, limit)).portions > 0]
    told = [(why, cure) for lifted in helping for why, cure in _told(case, lifted, missing)]
    if not told:
        return f"no one limit alone keeps {case.need.cut.name} out: several are full at once", ()
    return told[0][0], tuple(dict.fromkeys(cure for _, cure in told))


def _without(case: Case, limit: str) -> Lifted:
    """Plan the missing parts again with this limit lifted."""
    free = occupied(case.problem, case.plan, lifted=frozenset({limit}))
    portions = 0
    for part in case.parts:
        fit = cheapest_fit(free, part)
        if fit is not None:
            free.place(part, fit)
            portions += part.due
    return Lifted(limit, free, portions)


def _told(case: Case, lifted: Lifted, missing: int) -> Iterator[tuple[str, str]]:
    """What binds and what would cure it, once for each place that is overdrawn without the limit."""
    some = "" if lifted.portions >= missing else f", for {lifted.portions} of the {missing}"
    name, free = case.need.cut.name, lifted.occupancy
    if lifted.limit == "setpoint":
        yield _setpoint_told(case, free, some)
    elif lifted.limit == "pit room":
        for pit, left in free.pit_left.items():
            if span := _overdrawn(case, left):
                room = f"{_metres(left)} more on {case.house.pits[pit].name} {span}{some}"
                yield f"{case.house.pits[pit].name} is full when {name} must cook", room
    elif lifted.limit in {"bench", "hold"}:
        left = free.bench_left if lifted.limit == "bench" else free.hold_left
        if span := _overdrawn(case, left):
            yield _waiting(case, lifted.limit), f"{_metres(left)} more {lifted.limit} {span}{some}"
    elif span := _overdrawn(case, free.hands_left if lifted.limit == "hands" else free.attention_left):
        words = "nobody has hands free" if lifted.limit == "hands" else "the crew has all it can watch"
        yield f"{words} for {name} {span}", f"one more person {span}{some}"


def _waiting(case: Case, limit: str) -> str:
    hot = limit == "hold"
    there = any((hold.setpoint_c is not None) == hot for hold in case.house.holds.values())
    state = "is full" if there else "does not exist"
    return f"the {limit} {state} when {case.need.cut.name} comes off"


def _setpoint_told(case: Case, free: Occupancy, some: str) -> tuple[str, str]:
    places = [free.placed[part.id] for part in case.parts if part.id in free.placed]
    names = in_list(list(dict.fromkeys(case.house.pits[at.mode.pit].name for at in places)))
    at = places[0]
    kept = format_temperature(at.mode.setpoint_c, case.house.display)
    begin, end = case.when(at.start), case.when(at.start + at.mode.d90)
    why = f"{names} cold or at another setpoint when {case.need.cut.name} must cook"
    return why, f"{case.house.pits[at.mode.pit].name} kept at {kept} from {begin} to {end}{some}"


def _overdrawn(case: Case, left: NDArray[np.int64]) -> str:
    """From when to when more is taken than there is; empty where nothing is."""
    slots = np.flatnonzero(left < 0)
    if not len(slots):
        return ""
    return f"from {case.when(int(slots[0]))} to {case.when(int(slots[-1]) + 1)}"


def _metres(left: NDArray[np.int64]) -> str:
    return f"{-int(left.min()) / CM2_A_M2:.2f} m²"
