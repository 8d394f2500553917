"""How a recipe reaches the meat: whether it is a liquid, and whether it is driven in."""

from board.house.model import Recipe, RecipeKind

# kilograms, or litres, of liquid a kilogram of meat needs to lie covered; common practice, no source
LEAST_COVER = 0.25


def is_liquid(recipe: Recipe) -> bool:
    """Whether the recipe is a brine in the chemist's sense: a brine or cure with water in it.

    What meat lies in may also be mostly something else, such as cider; salt and spices alone are dry,
    however long meat lies in them.
    """
    wet = any(i.role == "water" for i in recipe.ingredients) or _is_mostly_juice(recipe)
    return wet and recipe.kind in (RecipeKind.BRINE, RecipeKind.CURE)


def _is_mostly_juice(recipe: Recipe) -> bool:
    kilograms = [i for i in recipe.ingredients if i.basis == "kg"]
    other = sum(i.amount for i in kilograms if i.role == "other")
    return recipe.immersed_minutes is not None and other > sum(i.amount for i in kilograms) / 2


def is_injected(recipe: Recipe) -> bool:
    """Whether the recipe is pumped into the meat: a liquid too little to lie in, or never lain in.

    Pumped meat may then lie in what is left, so `immersed_minutes` alone does not tell.
    """
    too_little_to_cover = recipe.pickup > 0 and 0 < (recipe.use_kg_a_kg or recipe.use_l_a_kg) < LEAST_COVER
    return is_liquid(recipe) and (recipe.immersed_minutes is None or too_little_to_cover)
