"""Works out again what lateness, holding and missing portions cost, from the plan's times and the house.

The planner counts in five-minute slots from loading, rounds cooks and work up to them, and weighs the
promised portions that fall on a load; a plan tells the portions a load gives. So each load is bounded, a slot
for each rounding.
"""

from collections.abc import Iterator
from datetime import timedelta

from board.house.model import House
from board.planning.plan import Plan, PlannedLoad

# planning/data/costs.toml as it stood when this was written; a house that weighs itself is not gone over.
UNSERVED, LATE, LATE_MINUTE, HELD_MINUTE, EASY_HOLD = 5000.0, 2000.0, 20.0, 0.5, 60.0
GUEST_KG = 0.2
MINUTE = timedelta(minutes=1)
SLOT_MINUTES = 5.0


def worth_faults(plan: Plan, house: House) -> Iterator[str]:
    """Every part of the cost that the loads' own times do not bear out."""
    if house.weighing:
        return
    late = sum(_late(house, load, SLOT_MINUTES * _roundings(house, load)) for load in plan.loads)
    if plan.costs.late > late + 1:
        yield f"lateness costs {late:.0f} points at most, told {plan.costs.late:.0f}"
    if plan.costs.late == 0 and any(load.spare_minutes_p50 < -1 for load in plan.loads):
        yield "a load is late and lateness costs nothing"
    held = sum(_held(house, load) for load in plan.loads)
    if plan.costs.held > held + 1:
        yield f"holding costs {held:.0f} points at most, told {plan.costs.held:.0f}"
    lacking, most = _lacking(plan, house)
    if not 0.999 * UNSERVED * lacking - 1 <= plan.costs.unserved <= UNSERVED * most + 1:
        yield f"{lacking:.0f} to {most:.0f} plates are lacking, told {plan.costs.unserved / UNSERVED:.1f}"


def _roundings(house: House, load: PlannedLoad) -> int:
    """Slots by which the planner may see a load later than its minutes say: one for each rounding up."""
    finish = house.items[load.item].finish if load.item in house.items else ()
    return 3 + len(finish)


def _plates(house: House, item: str, cut: str) -> float:
    if item in house.items:
        return 1.0
    served = house.cuts[cut].mass_kg.usual * house.cuts[cut].yields.raw_to_served
    return max(1.0, served / GUEST_KG)


def _late(house: House, load: PlannedLoad, slack_minutes: float) -> float:
    minutes = -load.spare_minutes_p50
    if minutes <= -slack_minutes:
        return 0.0
    plates = load.portions * _plates(house, load.item, load.cut)
    return plates * (LATE + LATE_MINUTE * (max(0.0, minutes) + slack_minutes))


def _held(house: House, load: PlannedLoad) -> float:
    """What a load's spare, and its waiting for its last wave, cost at most beyond the easy hold."""
    rest = house.cuts[load.cut].rest_minutes
    easy = max(EASY_HOLD, rest[1] - rest[0] - SLOT_MINUTES)
    spare = max(0.0, load.spare_minutes_p50 + SLOT_MINUTES - easy)
    waves = max((at - load.needed_at) / MINUTE for at in (*load.waves, load.needed_at))
    waited = load.rest_minutes + load.hold_minutes_p50 - load.spare_minutes_p50
    plates = load.portions * _plates(house, load.item, load.cut)
    return HELD_MINUTE * plates * (spare + max(0.0, waves, waited))


def _lacking(plan: Plan, house: House) -> tuple[float, float]:
    """Plates that are told as short and not late, and those with what is only late."""
    least = most = 0.0
    for short in plan.short:
        cut = house.items[short.item].cut if short.item in house.items else short.item.removeprefix("whole-")
        plates = short.portions * _plates(house, short.item, cut)
        most += plates
        least += 0.0 if " late" in short.why else plates
    return least, most
