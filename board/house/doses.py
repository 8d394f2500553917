"""How a recipe reaches the meat: whether it is a liquid, and whether it is driven in."""

from board.house.library import density_of
from board.house.model import Ingredient, Recipe, RecipeKind

# kilograms, or litres, of liquid a kilogram of meat needs to lie covered; common practice, no source
LEAST_COVER = 0.25
# ground spices and herbs lie between 0.1 and 0.8 kg/L, oil and juice above; by the table of densities
LIQUID_KG_L = 0.9


def is_liquid(recipe: Recipe) -> bool:
    """Whether the recipe is a brine in the chemist's sense: a brine or cure with water in it.

    What meat lies in or is pumped with may also be mostly something else, such as cider; salt and spices
    alone are dry, however long meat lies in them.
    """
    wet = any(i.role == "water" for i in recipe.ingredients) or _is_mostly_juice(recipe)
    return wet and recipe.kind in (RecipeKind.BRINE, RecipeKind.CURE)


def _is_mostly_juice(recipe: Recipe) -> bool:
    """Whether over half of it is neither salt, sugar nor cure, and is taken up or is known to pour."""
    counted = [i for i in recipe.ingredients if i.basis == "kg"] or list(recipe.ingredients)
    taken_up = recipe.immersed_minutes is not None or recipe.pickup > 0
    other = sum(i.amount for i in counted if i.role == "other" and (taken_up or _pours(i)))
    return other > sum(i.amount for i in counted) / 2


def _pours(ingredient: Ingredient) -> bool:
    density = ingredient.density_kg_l or density_of(ingredient.name)
    return density is not None and density >= LIQUID_KG_L


def is_injected(recipe: Recipe) -> bool:
    """Whether the recipe is pumped into the meat: a liquid too little to lie in, or never lain in.

    Pumped meat may then lie in what is left, so `immersed_minutes` alone does not tell.
    """
    too_little_to_cover = recipe.pickup > 0 and 0 < (recipe.use_kg_a_kg or recipe.use_l_a_kg) < LEAST_COVER
    return is_liquid(recipe) and (recipe.immersed_minutes is None or too_little_to_cover)
