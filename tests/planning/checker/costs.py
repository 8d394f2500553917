"""Works out again what a plan costs, in minutes and money from the plan and the house alone.

The planner rounds work up to five-minute slots and a slot's fuel to a whole point: what is told may differ by
half a point for each slot a fire burns, and by no more.
"""

from collections.abc import Iterator
from dataclasses import fields
from datetime import datetime
from math import ceil

from board.house.model import House
from board.planning.plan import Plan, PlannedLoad
from tests.planning.checker.worth import worth_faults

# planning/data/costs.toml as it stood when this was written; a house that weighs itself is not gone over.
LIGHTING, CHANGE_OVER = 300.0, 150.0


def cost_faults(plan: Plan, house: House) -> Iterator[str]:
    """Every part of the cost that the plan's own loads, fires and hands do not bear out."""
    told = plan.costs
    if abs(sum(getattr(told, f.name) for f in fields(told)) - plan.cost) > 0.01 * (1 + len(plan.loads)):
        yield f"the parts of the cost do not sum to {plan.cost}"
    for field in fields(told):
        if getattr(told, field.name) < -1e-6:
            yield f"the cost of {field.name} is below nought"
    if told.unserved > 0 and not plan.short:
        yield f"what is unserved costs {told.unserved}, and nothing is told as short"
    if house.weighing:
        return
    yield from worth_faults(plan, house)
    slots, burnt, lit = _fires(plan, house)
    if abs(told.fuel + told.tending - burnt) > 0.5 * slots + 1:
        yield f"the fires burn {burnt:.0f} points, told {told.fuel + told.tending:.0f}"
    if abs(told.fires - lit) > 0.5:
        yield f"lighting costs {lit:.0f} points, told {told.fires:.0f}"
    work = sum(_work(house, load) for load in plan.loads)
    if abs(told.work - work) > 0.5 + 0.1 * len(plan.loads):
        yield f"the hands at the pits are worth {work:.0f} points, told {told.work:.0f}"


def _fires(plan: Plan, house: House) -> tuple[float, float, float]:
    """Slots of burning, their points, and the points of lighting and changing."""
    slots = burnt = lit = 0.0
    for pit in house.pits.values():
        begins = sorted((s for s in plan.steps if s.pit == pit.id), key=lambda s: s.at)
        an_hour = pit.fuel_kg_per_hour * pit.fuel_price_per_kg + pit.tend_fraction * house.wage_per_hour
        for n, step in enumerate(begins):
            after = begins[n + 1] if n + 1 < len(begins) else None
            out = _out(plan, pit.id, step.at, None if after is None else after.at)
            if after is not None and after.what == "set":
                out = after.at
            here = ceil((out - step.at).total_seconds() / 300 - 1e-6)
            slots += here
            # no fire is free, or it would never be let out
            burnt += here * max(1.0, an_hour * 100 / 12)
            lit += LIGHTING if step.what == "light" else CHANGE_OVER
    return slots, burnt, lit


def _out(plan: Plan, pit: str, begin: datetime, before: datetime | None) -> datetime:
    on = [
        ld.pull_at.p90
        for ld in plan.loads
        if ld.pit == pit and begin <= (ld.turn_at or ld.load_at) and (before is None or ld.load_at < before)
    ]
    return max(on, default=begin)


def _work(house: House, load: PlannedLoad) -> float:
    cut = house.cuts[load.cut]
    work = [cut.load_work.minutes(load.pieces), max(1.0, cut.pull_work.minutes(load.pieces))]
    if load.wrap_at is not None and cut.wrap is not None:
        work.append(cut.wrap.work.minutes(load.pieces))
    return sum(ceil(minutes / 5 - 1e-9) * 5 for minutes in work) * house.wage_per_hour * 100 / 60
