"""Goes over benches and holds one by one: each is the right kind, hot enough, and has room."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from board.house.model import Hold, House
from board.planning.plan import Plan, PlannedLoad
from tests.planning.checker.promises import last_due

# FDA Food Code 2022, 3-501.16(A)(1): hot food is held at 57 °C (135 °F) or above. The local code decides.
HOT_LEAST_C = 57.0
_SLOT = timedelta(minutes=5)


def hold_faults(plan: Plan, house: House) -> Iterator[str]:
    """Every load that waits nowhere, in the wrong place, where it is too cool, or where there is no room."""
    alone: dict[str, list[tuple[datetime, datetime, float]]] = {id: [] for id in house.holds}
    for load in plan.loads:
        rested = load.pull_at.p50 + timedelta(minutes=load.rest_minutes)
        served = last_due(plan, load)
        benches, holds = _named(load.bench), _named(load.hold)
        yield from _place_faults(house, load, benches, holds)
        if load.hold_minutes_p50 > 10 and not holds:
            yield f"{load.id}: no hold for {load.hold_minutes_p50:.0f} min"
        if load.rest_minutes > 10 and not benches:
            yield f"{load.id}: no bench to rest on"
        if len(benches) == 1 and benches[0] in alone:
            alone[benches[0]].append((load.pull_at.p50 + _SLOT, rested, load.area_m2))
        if len(holds) == 1 and holds[0] in alone:
            held = min(served, rested + timedelta(minutes=load.hold_minutes_p50)) - 2 * _SLOT
            alone[holds[0]].append((rested + _SLOT, held, load.area_m2))
    for id, stays in alone.items():
        yield from _overfull(house.holds[id], stays)


def _named(names: str | None) -> list[str]:
    return [] if not names else names.split(", ")


def _place_faults(house: House, load: PlannedLoad, benches: list[str], holds: list[str]) -> Iterator[str]:
    for name in [*benches, *holds]:
        if name not in house.holds:
            yield f"{load.id}: the house has no {name}"
    for name in (n for n in holds if n in house.holds):
        setpoint = house.holds[name].setpoint_c
        if setpoint is None or setpoint < HOT_LEAST_C:
            yield f"{load.id}: held too cool in {house.holds[name].name}"
    for name in (n for n in benches if n in house.holds):
        if house.holds[name].setpoint_c is not None:
            yield f"{load.id}: rests in {house.holds[name].name}, which is no bench"


def _overfull(place: Hold, stays: list[tuple[datetime, datetime, float]]) -> Iterator[str]:
    for moment in sorted({begin for begin, end, _ in stays if end > begin}):
        used = sum(area for begin, end, area in stays if begin <= moment < end)
        if used > place.area_m2 + 1e-6:
            yield f"{place.name} alone holds {used:.3f} m² of {place.area_m2:.3f} at {moment}"
