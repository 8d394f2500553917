"""Asks that no load goes untold whose pull alone does not cook it, and that what is told can be."""

from collections.abc import Iterator

from board.house.model import House
from board.planning.plan import CookedBy, Plan, PlannedLoad

# FDA Food Code 2022, 3-401.11, written down again: the coolest core of each rule, and that which needs half a
# minute or less. Cores are told in °C or °F, which differ by up to 0.3 K as printed.
LEAST_C = {"poultry": 74, "stuffed": 74, "injected": 63, "ground": 63, "intact-cut": 63, "roast": 54.4}
AT_ONCE_C = {"poultry": 74, "stuffed": 74, "injected": 68, "ground": 68, "intact-cut": 63, "roast": 68.3}
PRINTED_K = 0.3
# The roast chart's dry oven: from 4.5 kg 121 °C, lighter ones 177 °C.
HEAVY_KG, HEAVY_OVEN_C, LIGHT_OVEN_C = 4.5, 121.0, 177.0
# A core rises by no more off the fire, and to no more than a hold's own heat.
RISE_MOST_K = 15.0
DRIVEN_IN = ("inject", "pump", "needle", "tenderi", "pierc", "stitch", "tumbl")


def cooked_faults(plan: Plan, house: House) -> Iterator[str]:
    """Every load told too well, or not told of; a plan of before it was told at all is left alone."""
    if house.jurisdiction != "us" or not plan.cooked:
        return
    for load in plan.loads:
        yield from _faults(plan, house, load)


def _faults(plan: Plan, house: House, load: PlannedLoad) -> Iterator[str]:
    pull_c, rule = house.cuts[load.cut].end_core_c + PRINTED_K, _rule(house, load)
    told = plan.cooked.get(load.id)
    if told is None:
        if pull_c < AT_ONCE_C[rule]:
            yield f"{load.id}: pulled at {pull_c:.0f} °C, and how it is cooked safe is not told"
        return
    if told.by is CookedBy.PULL and pull_c < LEAST_C[rule]:
        yield f"{load.id}: told as cooked at a pull of {pull_c:.0f} °C, by the rule for {rule}"
    if told.by is CookedBy.REST and max(pull_c + RISE_MOST_K, _hold_c(house, load)) < LEAST_C[rule]:
        yield f"{load.id}: told as cooked by its rest, which does not get so hot"
    if told.by is CookedBy.NOT_MET and not any("not cooked safe" in caution for caution in plan.cautions):
        yield f"{load.id}: not cooked safe as planned, and no caution says so"


def _rule(house: House, load: PlannedLoad) -> str:
    cut = house.cuts[load.cut]
    driven_in = any(word in step.what for step in cut.prep for word in DRIVEN_IN)
    if cut.handling in {"intact-roast", "intact-cut"} and driven_in:
        return "injected"
    if cut.handling in {"intact-roast", "cured-ham"}:
        heavy = load.mass_kg / load.pieces >= HEAVY_KG
        oven_c = load.setpoint_c if load.then_c is None else min(load.setpoint_c, load.then_c)
        charted = oven_c + PRINTED_K >= (HEAVY_OVEN_C if heavy else LIGHT_OVEN_C)
        return "roast" if charted else "intact-cut"
    return str(cut.handling)


def _hold_c(house: House, load: PlannedLoad) -> float:
    places = [house.holds[id] for id in (load.hold or "").split(", ") if id in house.holds]
    return max((place.setpoint_c or 0.0 for place in places), default=0.0)
