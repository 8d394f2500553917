"""How much of each ingredient a batch takes: shares of the meat follow it, the rest fills the batch up."""

from board.errors import BoardError
from board.house.model import Recipe


def kilograms(recipe: Recipe, meat_kg: float, batch_kg: float) -> list[float]:
    """Each ingredient's mass for this meat, in the recipe's order."""
    _check_water(recipe)
    fixed = [i.amount * meat_kg if i.basis == "of meat" else 0.0 for i in recipe.ingredients]
    parts = [i.amount if i.basis == "kg" else 0.0 for i in recipe.ingredients]
    _share_out_water(recipe, fixed)
    _share_out_water(recipe, parts)
    factor = _factor(recipe, sum(fixed), sum(parts), batch_kg)
    return [a + factor * b for a, b in zip(fixed, parts, strict=True)]


def _check_water(recipe: Recipe) -> None:
    counted = [i.name for i in recipe.ingredients if i.basis == "of water"]
    if counted and not any(i.role == "water" and i.amount > 0 for i in recipe.ingredients):
        raise BoardError(f"{recipe.name}: {counted[0]} is counted of water, but the recipe has no water")


def _share_out_water(recipe: Recipe, masses: list[float]) -> None:
    """Put in what is counted "of water" beside the water that is already there."""
    water = sum(kg for i, kg in zip(recipe.ingredients, masses, strict=True) if i.role == "water")
    for n, ingredient in enumerate(recipe.ingredients):
        if ingredient.basis == "of water":
            masses[n] = ingredient.amount * water


def _factor(recipe: Recipe, fixed_kg: float, parts_kg: float, batch_kg: float) -> float:
    """How many times the written masses are taken, so that the batch comes to what is needed."""
    if parts_kg == 0 and fixed_kg > 0:
        return 0.0
    if parts_kg == 0 or batch_kg <= 0:
        raise BoardError(f"{recipe.name}: nothing to weigh; give an ingredient a mass and the amount used")
    if batch_kg <= fixed_kg:
        raise BoardError(
            f"{recipe.name}: {batch_kg:.3g} kg of batch leaves no room beside the {fixed_kg:.3g} kg counted "
            "of meat; raise the amount used for a kilogram of meat, or lower those shares"
        )
    return (batch_kg - fixed_kg) / parts_kg
