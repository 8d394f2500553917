"""Recipes the batch tests share."""

from board.house.model import Ingredient, Recipe, RecipeKind, Work


def water(amount: float, basis: str = "kg") -> Ingredient:
    """Water of a recipe."""
    return Ingredient("water", amount, basis, "water")


def salt(amount: float, basis: str = "of water") -> Ingredient:
    """Salt of a recipe."""
    return Ingredient("salt", amount, basis, "salt")


def sugar(amount: float, basis: str = "of water") -> Ingredient:
    """Sugar of a recipe."""
    return Ingredient("sugar", amount, basis, "sugar")


def cure(amount: float, basis: str = "kg", nitrite: float = 0.0625) -> Ingredient:
    """A blend of nitrite in salt."""
    return Ingredient("curing salt", amount, basis, "cure", nitrite=nitrite)


def recipe(
    *ingredients: Ingredient,
    kind: RecipeKind = RecipeKind.BRINE,
    use: float = 0.1,
    pickup: float = 0.0,
    immersed_minutes: float | None = None,
    ready_after_minutes: float = 0.0,
    keeps_minutes: float = 2_880.0,
) -> Recipe:
    """A recipe of these ingredients; kilograms of batch and pickup are for a kilogram of meat."""
    return Recipe(
        "test-recipe",
        "test recipe",
        kind,
        ingredients,
        use,
        Work(20.0),
        ready_after_minutes,
        keeps_minutes,
        pickup,
        immersed_minutes,
    )
