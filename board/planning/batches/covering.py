"""Meat that lies in a brine: which recipes ask for it, and how many containers it takes."""

from math import ceil, floor

from board.house.doses import is_injected, is_liquid
from board.house.model import Container, Recipe

_ROUNDS = 1e-6


def covers(recipe: Recipe) -> bool:
    """Whether meat lies in this recipe, in a container of the house."""
    return recipe.container is not None and is_liquid(recipe) and not is_injected(recipe)


def covered_in(container: Container, pieces: int, piece_kg: float, brine_kg: float) -> int:
    """How many containers so many pieces take that lie in so much brine, each with its share of it."""
    each = piece_kg + brine_kg / pieces
    per = floor(container.takes_kg / each * (1 + _ROUNDS))
    return ceil(pieces / per) if per else pieces
