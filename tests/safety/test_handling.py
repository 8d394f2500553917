"""Which rule a cut falls under, from what it is and what is done to it."""

from dataclasses import replace

import pytest

from board.house.library import library_cuts
from board.house.model import Handling, Ingredient, Recipe, RecipeKind, StepRule, Work
from board.safety.handling import handled, why_handled

PUMPED = Recipe(
    id="pump",
    name="the pump brine",
    kind=RecipeKind.BRINE,
    ingredients=(Ingredient("water", 1.0, "kg", "water"), Ingredient("salt", 0.1, "kg", "salt")),
    use_kg_a_kg=0.1,
    make_work=Work(10),
    ready_after_minutes=0,
    keeps_minutes=1440,
    pickup=0.08,
)
LAIN_IN = replace(PUMPED, id="cover", use_kg_a_kg=1.0, immersed_minutes=600.0)
RUB = replace(
    PUMPED, id="rub", kind=RecipeKind.RUB, ingredients=(Ingredient("salt", 1.0, "kg", "salt"),), pickup=0.02
)
RECIPES = {recipe.id: recipe for recipe in (PUMPED, LAIN_IN, RUB)}


def cut(name: str, *steps: tuple[str, str | None], handling: Handling | None = None):
    """A cut of the library with these steps before the pit."""
    found = library_cuts()[name]
    prep = tuple(StepRule(what, Work(5), (0, 60), recipe) for what, recipe in steps)
    return replace(found, prep=prep, handling=handling or found.handling)


@pytest.mark.parametrize(
    ("name", "steps", "expected"),
    [
        ("brisket", [], Handling.INTACT_ROAST),
        ("brisket", [("rub", "rub")], Handling.INTACT_ROAST),
        ("brisket", [("brine", "cover")], Handling.INTACT_ROAST),
        ("brisket", [("inject", "pump")], Handling.INJECTED),
        ("brisket", [("brine", "pump")], Handling.INJECTED),
        ("brisket", [("tenderise", None)], Handling.INJECTED),
        ("spare-ribs", [("needle", None)], Handling.INJECTED),
        ("pork-loin", [("vacuum tumble", "cover")], Handling.INJECTED),
        ("beef-round-roast", [("stitch", None)], Handling.INJECTED),
        ("brisket", [("inject", "pump"), ("stuff with onions", None)], Handling.STUFFED),
        ("pork-shoulder", [("grind", None)], Handling.GROUND),
        ("pork-shoulder", [("inject", "pump"), ("mince", None)], Handling.GROUND),
        ("ham-bone-in", [("inject", "pump")], Handling.CURED_HAM),
        ("ham-bone-in", [("grind", None)], Handling.GROUND),
        ("chicken-whole", [("inject", "pump")], Handling.POULTRY),
        ("chicken-whole", [("stuff", None)], Handling.STUFFED),
        ("sausage", [("inject", "pump")], Handling.GROUND),
    ],
)
def test_what_is_done_to_it_counts(name, steps, expected):
    """Injected beats intact, a bird stays a bird and a cured ham a cured ham, stuffed counts before all."""
    found = cut(name, *steps)
    assert handled(found, RECIPES) is expected
    assert (why_handled(found, RECIPES) == "") == (expected is found.handling)


def test_why_it_is_not_as_its_file_says():
    """One sentence: what is written, what is done, and what it is cooked as."""
    assert why_handled(cut("brisket", ("inject", "pump")), RECIPES) == (
        "brisket is written as intact-roast, but with the step inject it is cooked as injected."
    )
    assert "with the pump brine pumped in" in why_handled(cut("brisket", ("brine", "pump")), RECIPES)
