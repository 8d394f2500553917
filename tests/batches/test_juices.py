"""Injections made of cider, broth or butter in place of water: as pumped as any other."""

from dataclasses import replace

import pytest

from board.batches.meat import in_the_meat
from board.batches.scale import scaled
from board.house.doses import is_injected, is_liquid
from board.house.files import read_house
from board.house.library import densities
from board.house.model import Handling, Ingredient, RecipeKind
from board.house.seeds import seed_house
from board.safety.handling import handled

from .recipes import cure, recipe, salt, sugar

CIDER = Ingredient("cider", 0.94, "kg")
BROTH = Ingredient("house broth", 0.94, "kg")


def test_cider_pumped_in_is_an_injection_and_held_to_its_limit():
    """56 g of blend in 1 kg at 10 % is 350 ppm: over the 200 of a pump, within the 625 of a dry cure."""
    pumped = recipe(CIDER, salt(0.004, "kg"), cure(0.056), kind=RecipeKind.CURE, use=0.12, pickup=0.10)
    assert is_injected(pumped)
    meat = in_the_meat(scaled(pumped, 10.0))
    assert meat is not None
    assert (meat.method, meat.over) == ("pumped", True)
    assert meat.nitrite_ppm == pytest.approx(350)


@pytest.mark.parametrize("pickup", [0.0, 0.1])
def test_meat_given_it_is_injected_meat_whatever_the_step_is_called(pickup: float):
    """Salted cider without `immersed` reaches the middle: the meat is no intact roast."""
    house = read_house(seed_house("tallow_row"))
    made = recipe(CIDER, salt(0.06, "kg"), use=0.12, pickup=pickup)
    loin = house.cuts["pork-loin"]
    given = replace(loin, handling=Handling.INTACT_ROAST, prep=(replace(loin.prep[0], recipe=made.id),))
    assert handled(given, {made.id: made}) is Handling.INJECTED


def test_what_nobody_knows_the_density_of_is_a_liquid_where_the_meat_takes_it_up():
    """A broth of the house with a pickup is pumped; without one, nothing tells it from a spice."""
    assert is_injected(recipe(BROTH, salt(0.06, "kg"), pickup=0.1))
    assert not is_liquid(recipe(BROTH, salt(0.06, "kg")))


def test_shares_of_the_meat_are_counted_too():
    """Cider of 10 % and salt of 1 % of the meat is as liquid as the same by weight."""
    shares = (replace(CIDER, amount=0.10, basis="of meat"), salt(0.01, "of meat"))
    assert is_injected(recipe(*shares, pickup=0.1))


def test_a_dry_brine_of_mostly_spices_stays_dry():
    """Pepper, herbs and salt rubbed on and left are no liquid, however little salt there is."""
    dry = recipe(Ingredient("black pepper", 0.6, "kg"), salt(0.3, "kg"), sugar(0.1, "kg"), use=0.03)
    assert not is_liquid(dry)


def test_the_tables_liquids_and_spices_lie_on_either_side():
    """0.9 kg/L parts cider, vinegar and butter from every ground spice of the table."""
    assert all(densities()[name] >= 0.9 for name in ("cider", "vinegar", "butter"))
    spices = ("paprika", "black pepper", "garlic powder", "onion powder", "chili powder", "mustard powder")
    assert all(densities()[name] < 0.9 for name in spices)
