"""Doubts about how batches are boiled, chilled and kept: times, hands, containers that do not go together."""

from collections.abc import Iterator
from math import isfinite

from board.house.chilling import chill_minutes
from board.house.model import House, Recipe
from board.house.wording import duration, in_list


def doubtful_batches(house: House) -> Iterator[tuple[str, str]]:
    """What a cook would ask about the recipes that are boiled or kept in a container."""
    for recipe in house.recipes.values():
        yield from _ready_too_soon(house, recipe)
        yield from _nobody_chills(house, recipe)
        yield from _too_small(house, recipe)


def _ready_too_soon(house: House, recipe: Recipe) -> Iterator[tuple[str, str]]:
    """A stated time that is shorter than what a full vessel takes to boil and cool."""
    if recipe.chill is None:
        return
    pot = house.pot_of(recipe)
    asked = recipe.boil_minutes + chill_minutes(recipe.chill, recipe.chilled_to_c, pot)
    if isfinite(asked) and recipe.ready_after_minutes < asked - 1.0:
        yield (
            f"recipes.toml, {recipe.id}.ready_after",
            f"ready after {duration(recipe.ready_after_minutes)}, but boiling and cooling a full vessel by "
            f"{recipe.chill} takes {duration(asked)}",
        )


def _nobody_chills(house: House, recipe: Recipe) -> Iterator[tuple[str, str]]:
    """A boiled brine that nobody of the crew may set to cool, or read."""
    if recipe.chill is None or not house.people:
        return
    lacking = [
        what
        for what in ("chill", "check")
        if all(person.can and what not in person.can for person in house.people.values())
    ]
    if lacking:
        yield (
            "crew.toml, people.can",
            f"nobody does {in_list(lacking)}, which {recipe.name} asks for once it has boiled",
        )


def _too_small(house: House, recipe: Recipe) -> Iterator[tuple[str, str]]:
    """A container too small for one piece of a cut that lies in it."""
    tub = house.containers.get(recipe.container or "")
    if tub is None or recipe.immersed_minutes is None:
        return
    for cut in house.cuts.values():
        # a litre of brine weighs a kilogram at least
        piece_kg = cut.mass_kg.usual * (1 + recipe.use_kg_a_kg + recipe.use_l_a_kg)
        if any(step.recipe == recipe.id for step in cut.prep) and piece_kg > tub.takes_kg:
            yield (
                f"recipes.toml, {recipe.id}.container",
                f"a {tub.name} takes {tub.takes_kg:.3g} kg, less than one {cut.name} with its brine",
            )
