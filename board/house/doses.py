"""How a recipe reaches the meat: whether it is a liquid, and whether it is driven in."""

from board.house.model import Recipe, RecipeKind

# kilograms of liquid a kilogram of meat needs to lie covered; common practice, no source
LEAST_COVER = 0.25


def is_liquid(recipe: Recipe) -> bool:
    """Whether the recipe is a brine in the chemist's sense: a brine or cure with water in it, or lain in."""
    wet = recipe.immersed_minutes is not None or any(i.role == "water" for i in recipe.ingredients)
    return wet and recipe.kind in (RecipeKind.BRINE, RecipeKind.CURE)


def is_injected(recipe: Recipe) -> bool:
    """Whether the recipe is pumped into the meat: a liquid too little to lie in, or never lain in.

    Pumped meat may then lie in what is left, so `immersed_minutes` alone does not tell.
    """
    too_little_to_cover = recipe.pickup > 0 and 0 < (recipe.use_kg_a_kg or recipe.use_l_a_kg) < LEAST_COVER
    return is_liquid(recipe) and (recipe.immersed_minutes is None or too_little_to_cover)
