"""Which limit keeps a need out of a plan, found by planning without each in turn, then without each two."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from board.house.units import format_area, format_temperature
from board.house.wording import count, in_list
from board.planning.area import CM2_A_M2
from board.planning.search.insertion import cheapest_fit
from board.planning.search.occupancy import LIMITS, Occupancy
from board.planning.search.tidy import occupied
from board.planning.shortfall.case import Case
from board.safety.limits import hot_hold_least_c


@dataclass(frozen=True)
class Lifted:
    """A plan with some limits lifted: what it holds then, and the missing portions it serves."""

    limits: frozenset[str]
    occupancy: Occupancy
    portions: int


def binding(case: Case) -> list[Lifted]:
    """The limits without which more is served, the most first; two together where none does alone."""
    for together in (1, 2):
        tried = [_without(case, frozenset(limits)) for limits in combinations(LIMITS, together)]
        helping = [lifted for lifted in tried if lifted.portions > 0]
        if helping:
            return sorted(helping, key=lambda lifted: -lifted.portions)
    return []


def _without(case: Case, limits: frozenset[str]) -> Lifted:
    """Plan the missing parts again with these limits lifted."""
    free = occupied(case.problem, case.plan, lifted=limits)
    portions = 0
    for part in case.parts:
        fit = cheapest_fit(free, part)
        if fit is not None:
            free.place(part, fit)
            portions += part.due
    return Lifted(limits, free, portions)


def why(case: Case, bound: list[Lifted]) -> str:
    """What binds, in a sentence; where and when it is overdrawn without the limit."""
    if not bound:
        much = count(sum(part.pieces for part in case.parts), case.need.cut.name)
        return f"{much} are more than this house can do: pits, people and holds are all in the way at once"
    words = [next(_words(case, limit, bound[0].occupancy), limit) for limit in sorted(bound[0].limits)]
    return in_list(words)


def _words(case: Case, limit: str, free: Occupancy) -> Iterator[str]:
    name = case.need.cut.name
    if limit == "setpoint":
        yield _setpoint_words(case, free)
    elif limit == "level":
        yield f"{name} would lie with raw birds above other meat wherever there is room"
    elif limit == "wait":
        yield f"{name} would be held longer than it keeps"
    elif limit == "pit room":
        for spot, left in free.pit_left.items():
            if span := overdrawn(case, left):
                yield f"{place(case, spot)} is full when {name} must cook, {metres(case, left)} short {span}"
    elif limit in {"bench", "hold"}:
        left = free.bench_left if limit == "bench" else free.hold_left
        if span := overdrawn(case, left):
            yield f"{_waiting(case, limit)}, {metres(case, left)} short {span}"
    elif limit == "hands":
        if span := overdrawn(case, free.hands_left):
            yield f"nobody has hands free for {name} {span}"
    elif span := overdrawn(case, free.attention_left):
        yield f"the crew has all it can watch {span}, and {name} wants a fire more"


def place(case: Case, spot_id: str) -> str:
    """A spot as the house calls it: `North`, or `the top of North`."""
    spot = case.problem.frame.spots[spot_id]
    pit = case.house.pits[spot.pit]
    zone = next((z.name for z in pit.zones if spot_id.endswith(f"/{z.id}")), "")
    return f"{pit.name}, {zone}," if zone else pit.name


def _waiting(case: Case, limit: str) -> str:
    hot = limit == "hold"
    there = [hold for hold in case.house.holds.values() if (hold.setpoint_c is not None) == hot]
    least_c = hot_hold_least_c(place=case.house.jurisdiction)
    warm = [hold for hold in there if hold.setpoint_c is None or hold.setpoint_c >= least_c]
    cold = in_list([hold.name for hold in there if hold not in warm])
    if not there:
        return f"this house has no {limit} for {case.need.cut.name}"
    state = "is full" if warm else f"is too cold to be safe ({cold})"
    also = f" ({cold} is too cold to be safe)" if warm and cold else ""
    return f"the {limit} {state}{also} when {case.need.cut.name} comes off"


def _setpoint_words(case: Case, free: Occupancy) -> str:
    places = [free.placed[part.id] for part in case.parts if part.id in free.placed]
    names = in_list(list(dict.fromkeys(case.house.pits[at.mode.pit].name for at in places)))
    at = places[0]
    wanted = format_temperature(at.mode.setpoint_c, case.house.display)
    begin, end = case.when(at.start), case.when(at.start + at.mode.d90)
    return (
        f"{names} cold or at another setpoint when {case.need.cut.name} must cook, "
        f"at {wanted} from {begin} to {end}"
    )


def overdrawn(case: Case, left: NDArray[np.int64]) -> str:
    """From when to when more is taken than there is; empty where nothing is."""
    slots = np.flatnonzero(left < 0)
    if not len(slots):
        return ""
    return f"from {case.when(int(slots[0]))} to {case.when(int(slots[-1]) + 1)}"


def metres(case: Case, left: NDArray[np.int64]) -> str:
    """The room missing at the worst moment."""
    return format_area(-int(left.min()) / CM2_A_M2, case.house.display)
