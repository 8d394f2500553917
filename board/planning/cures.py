"""Whether a plan may be committed: not with a cure in it that is over its limit."""

from collections.abc import Container, Iterator
from zoneinfo import ZoneInfo

from board.batches.refused import Making, refusals
from board.house.model import House
from board.planning.plan import Plan


def cures_over(house: House, plan: Plan, made: Container[str] = ()) -> tuple[str, ...]:
    """One sentence for each batch of the plan whose nitrite or nitrate is over its limit.

    Batches already `made` (their ids) are left out: what they are is no longer for a plan to refuse.
    """
    return refusals(house, _makings(house, plan, made))


def _makings(house: House, plan: Plan, made: Container[str]) -> Iterator[Making]:
    loads = {load.id: load for load in plan.loads}
    zone = ZoneInfo(plan.zone)
    for batch in (each for each in plan.batches if each.id not in made):
        served = [loads[id] for id in batch.loads if id in loads]
        recipe = house.recipes.get(batch.recipe)
        name = f"{recipe.name if recipe else batch.recipe} ({batch.id})"
        cuts = tuple(dict.fromkeys(load.cut for load in served))
        meat_kg = sum(load.mass_kg for load in served)
        yield Making(name, batch.recipe, cuts, meat_kg, batch.make_by.astimezone(zone).date())
