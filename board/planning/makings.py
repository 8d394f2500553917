"""How much of a recipe a load takes, and a making as a planned batch."""

from datetime import datetime

from board.batches.merge import Making, ready_and_use_by
from board.house.model import House, Recipe
from board.planning.plan import PlannedBatch
from board.planning.problem import Part


def recipe_kg(house: House, recipe_id: str, part: Part) -> float:
    """Kilograms of a recipe that the pieces of a part take, from their raw mass."""
    return house.recipes[recipe_id].use_kg_a_kg * part.pieces * part.need.cut.mass_kg.usual


def kept_batch(recipe: Recipe, batch_id: str, making: Making, made_at: datetime) -> PlannedBatch:
    """A making as it is planned: ready and use-by follow from when it is really made."""
    ready_from, use_by = ready_and_use_by(recipe, made_at)
    return PlannedBatch(
        id=batch_id,
        recipe=recipe.id,
        kind=recipe.kind.value,
        amount_kg=making.kg,
        make_by=making.make_by,
        ready_from=ready_from,
        use_by=use_by,
        loads=making.loads,
    )
