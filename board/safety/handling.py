"""Which cooking rule a cut falls under, from what it is and what is done to it before the pit."""

from collections.abc import Mapping

from board.house.check import injects
from board.house.model import Cut, Handling, Recipe, RecipeKind, StepRule

INTACT = (Handling.INTACT_ROAST, Handling.INTACT_CUT)


def handled(cut: Cut, recipes: Mapping[str, Recipe]) -> Handling:
    """The rule a cut falls under: meat that is injected is no longer intact."""
    injected = any(injects(step) or _is_pumped(step, recipes) for step in cut.prep)
    return Handling.INJECTED if injected and cut.handling in INTACT else cut.handling


def _is_pumped(step: StepRule, recipes: Mapping[str, Recipe]) -> bool:
    """Whether a recipe that stays in the meat, and that it does not lie in, is driven into it."""
    recipe = recipes.get(step.recipe or "")
    if recipe is None or recipe.kind not in (RecipeKind.BRINE, RecipeKind.CURE):
        return False
    wet = any(ingredient.role == "water" for ingredient in recipe.ingredients)
    return wet and recipe.pickup > 0 and recipe.immersed_minutes is None
