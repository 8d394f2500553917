"""Goes over where on a pit meat lies: room in each zone, nothing under raw birds, one fire at a time."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import combinations

from board.house.model import Handling, House, Zone
from board.planning.plan import Plan, PlannedLoad

_BIRDS = {"chicken", "turkey", "duck", "goose"}


def spot_faults(plan: Plan, house: House) -> Iterator[str]:
    """Every zone over full or unknown, bird above other meat, and setpoint the meat cannot have."""
    for load in plan.loads:
        yield from _zone_faults(house, load)
        yield from _turn_faults(plan, house, load)
    for pit in house.pits.values():
        here = [load for load in plan.loads if load.pit == pit.id]
        for zone in pit.zones:
            yield from _zone_room(here, zone, pit.name)
        for a, b in combinations(here, 2):
            if a.load_at < b.pull_at.p90 and b.load_at < a.pull_at.p90:
                yield from _beside(house, a, b)


def _zone_of(house: House, load: PlannedLoad) -> Zone | None:
    return next((z for z in house.pits[load.pit].zones if z.id == load.zone), None)


def _zone_faults(house: House, load: PlannedLoad) -> Iterator[str]:
    pit, cut = house.pits[load.pit], house.cuts[load.cut]
    zone = _zone_of(house, load)
    if load.zone is not None and zone is None:
        yield f"{load.id}: no zone {load.zone} on {pit.name}"
    if zone is not None:
        air = load.setpoint_c + zone.warmer_k
        if not cut.pit_c.low - 0.06 <= air <= cut.pit_c.high + 0.06:
            yield f"{load.id}: {cut.name} does not cook at {air:.0f} in zone {zone.name}"


def _zone_room(here: list[PlannedLoad], zone: Zone, pit: str) -> Iterator[str]:
    inside = [load for load in here if load.zone == zone.id]
    for moment in sorted({load.load_at for load in inside}):
        used = sum(ld.area_m2 for ld in inside if ld.load_at <= moment < ld.pull_at.p90)
        if used > zone.area_m2 + 1e-6:
            yield f"zone {zone.name} of {pit} holds {used:.3f} m² of {zone.area_m2:.3f} at {moment}"


def _is_bird(house: House, load: PlannedLoad) -> bool:
    cut = house.cuts[load.cut]
    return cut.handling is Handling.POULTRY or cut.animal in _BIRDS


def _beside(house: House, a: PlannedLoad, b: PlannedLoad) -> Iterator[str]:
    levels = [0 if zone is None else zone.level for zone in (_zone_of(house, a), _zone_of(house, b))]
    upper, lower = (a, b) if levels[0] > levels[1] else (b, a)
    if levels[0] != levels[1] and _is_bird(house, upper) and not _is_bird(house, lower):
        yield f"{upper.id}: a raw bird above {lower.id}"
    for begin, end, asked in _phases(a):
        for first, last, other in _phases(b):
            if max(begin, first) < min(end, last) and abs(asked - other) > 0.01:
                yield f"{a.id} and {b.id} want {house.pits[a.pit].name} at two setpoints"


def _phases(load: PlannedLoad) -> list[tuple[datetime, datetime, float]]:
    if load.turn_at is None or load.then_c is None:
        return [(load.load_at, load.pull_at.p90, load.setpoint_c)]
    return [
        (load.load_at, load.turn_at, load.setpoint_c),
        (load.turn_at, load.pull_at.p90, load.then_c),
    ]


def _turn_faults(plan: Plan, house: House, load: PlannedLoad) -> Iterator[str]:
    wrap, pit = house.cuts[load.cut].wrap, house.pits[load.pit]
    if (load.turn_at is None) != (load.then_c is None):
        yield f"{load.id}: half a change of setpoint"
    if load.turn_at is None or load.then_c is None:
        return
    if wrap is None or wrap.then_c is None or abs(wrap.then_c - load.then_c) > 0.06:
        yield f"{load.id}: nobody asked for {load.then_c} once wrapped"
    if not pit.setpoint_c[0] - 0.06 <= load.then_c <= pit.setpoint_c[1] + 0.06:
        yield f"{load.id}: {pit.name} cannot be brought to {load.then_c}"
    if load.wrap_at is None or load.turn_at < load.wrap_at - timedelta(minutes=5):
        yield f"{load.id}: its fire is changed before it is wrapped"
    if not any(s.what == "set" and s.pit == pit.id and s.at == load.turn_at for s in plan.steps):
        yield f"{load.id}: no step sets {pit.name} at {load.turn_at}"
