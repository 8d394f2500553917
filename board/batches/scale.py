"""A recipe scaled to the meat it serves: exact grams, and what to weigh.

What the meat takes is dosed by its mass, by its surface, or by a volume for its mass.

Ingredients counted "of meat" follow the meat. Those written as masses, and those "of water", keep
their proportions and fill the batch up to the kilograms of batch each kilogram of meat takes; a
recipe with nothing written as a mass makes what its parts come to.
"""

from dataclasses import replace

from board.batches.amounts import kilograms
from board.batches.scaled_batch import ScaledBatch, line_of
from board.errors import BoardError
from board.house.doses import is_injected
from board.house.model import Recipe, Scales

# a brine's mass by its litres settles in fewer turns than these
DENSITY_TURNS = 12
SETTLED = 1e-9


def scaled(
    recipe: Recipe,
    meat_kg: float,
    *,
    pickup: float | None = None,
    surface_m2: float | None = None,
    scales: Scales | None = None,
) -> ScaledBatch:
    """Scale a recipe to raw meat; `pickup` (mass fraction of the green meat) replaces the recipe's.

    An injection's batch grows with its pickup; a cover brine, cure, rub or glaze keeps its amount.
    `surface_m2` is of all the meat, needed where the recipe is dosed by it; `scales` what the amounts are
    shown on. Raises BoardError when the meat or the recipe has no mass, "of water" is used without water,
    or the surface is needed and not given.
    """
    check_meat(recipe, meat_kg)
    if pickup is not None and pickup <= 0 and is_injected(recipe):
        raise BoardError(
            f"{recipe.name}: found a pickup of 0 %, allowed more, for it is pumped into the meat"
        )
    stays = recipe.pickup if pickup is None else pickup
    litres_a_kg = _use_l_a_kg(recipe, pickup)
    if litres_a_kg:
        masses = _by_volume(recipe, meat_kg, litres_a_kg * meat_kg)
    else:
        masses = kilograms(recipe, meat_kg, _batch_kg(recipe, meat_kg, stays, surface_m2))
    lines = tuple(line_of(i, kg, scales) for i, kg in zip(recipe.ingredients, masses, strict=True))
    return ScaledBatch(recipe, meat_kg, stays, lines, sum(masses), scales)


def check_meat(recipe: Recipe, meat_kg: float) -> None:
    """Refuse a batch for no meat: a slip of the hand."""
    if meat_kg <= 0:
        raise BoardError(f"{recipe.name}: the meat must weigh more than 0 kg; got {meat_kg:g} kg")


def covering(recipe: Recipe, meat_kg: float, litres: float) -> Recipe:
    """The recipe made so large that it comes to so many litres for this meat."""
    return replace(recipe, use_kg_a_kg=0.0, use_kg_m2=0.0, use_l_a_kg=litres / meat_kg)


def filling(recipe: Recipe, meat_kg: float, batch_kg: float) -> Recipe:
    """The recipe made so large that it comes to so many kilograms for this meat."""
    return replace(recipe, use_kg_a_kg=batch_kg / meat_kg, use_kg_m2=0.0, use_l_a_kg=0.0)


def use_kg_a_kg(recipe: Recipe, pickup: float) -> float:
    """Kilograms of batch for each kilogram of meat at this pickup, with the recipe's own spare."""
    if not is_injected(recipe) or pickup == recipe.pickup:
        return recipe.use_kg_a_kg
    if recipe.pickup <= 0:
        return max(recipe.use_kg_a_kg, pickup)
    return recipe.use_kg_a_kg * pickup / recipe.pickup


def _use_l_a_kg(recipe: Recipe, pickup: float | None) -> float:
    """Litres a kilogram of meat takes, an injection's by its pickup; nought where that alone tells."""
    if pickup is None or not is_injected(recipe):
        return recipe.use_l_a_kg
    return recipe.use_l_a_kg * pickup / recipe.pickup if recipe.pickup > 0 else 0.0


def _batch_kg(recipe: Recipe, meat_kg: float, pickup: float, surface_m2: float | None) -> float:
    """Kilograms of batch by the meat's mass, or by its surface."""
    if not recipe.use_kg_m2:
        return use_kg_a_kg(recipe, pickup) * meat_kg
    if surface_m2 is None:
        raise BoardError(
            f"{recipe.name} is dosed by surface, {1_000 * recipe.use_kg_m2:g} g/m2, and no cut is known "
            "for it; name one, such as --cut pork-shoulder"
        )
    return recipe.use_kg_m2 * surface_m2


def _by_volume(recipe: Recipe, meat_kg: float, litres: float) -> list[float]:
    """Each ingredient's mass for a batch of so many litres, whose density follows from its strength."""
    batch_kg = litres
    for _ in range(DENSITY_TURNS):
        trial = scaled(replace(recipe, use_kg_a_kg=batch_kg / meat_kg, use_l_a_kg=0.0), meat_kg)
        if trial.litres is None:
            raise BoardError(
                f"{recipe.name} is dosed by volume, and an ingredient's density is not known; give it one"
            )
        batch_kg *= litres / trial.litres
        if abs(trial.litres - litres) < SETTLED * litres:
            break
    return kilograms(recipe, meat_kg, batch_kg)
