"""One batch worked out for the meat, with what to mind."""

from datetime import UTC, datetime, timedelta

import pytest

from board.batches.card import batch_card
from board.batches.served import cuts_taking
from board.house.files import read_house
from board.house.model import Handling, House, RecipeKind
from board.house.seeds import seed_house

from .recipes import cure, recipe, salt, water


@pytest.fixture(scope="module")
def house() -> House:
    """The demo house."""
    return read_house(seed_house("tallow_row"))


def test_a_pumped_ham(house: House):
    """The demo's ham cure: pumped, its nitrite inside the limit, salt evening out between the needles."""
    card = batch_card(house, house.recipes["ham-cure"], 20.0)
    assert card.meat is not None
    assert card.spread is not None
    assert (card.meat.method, card.meat.judgement.over) == ("pumped", False)
    assert card.meat.nitrite_ppm == pytest.approx(0.1 * 18.75e6 / 12_700)
    assert card.spread.depth_mm == 12.5
    assert (card.made_at, card.ready_from, card.use_by) == (None, None, None)


def test_times_follow_from_the_making(house: House):
    """Ready-from and use-by are elapsed time from the end of making."""
    made_at = datetime(2026, 12, 9, 10, 30, tzinfo=UTC)
    card = batch_card(house, house.recipes["ham-cure"], 20.0, made_at=made_at)
    assert card.ready_from == made_at + timedelta(hours=5)
    assert card.use_by == made_at + timedelta(hours=24)


def test_a_cover_brine_too_short_for_the_middle_is_told(house: House):
    """Hours in a brine do not season the middle of a bird; the card says so."""
    card = batch_card(house, house.recipes["turkey-brine"], 12.0)
    assert card.spread is not None
    assert any("outside ends saltier" in warning for warning in card.warnings)


def test_an_over_dose_is_told(house: House):
    """A dose over the limit is told not to be made."""
    strong = recipe(water(1.0), salt(0.1), cure(0.05), kind=RecipeKind.CURE, use=0.12, pickup=0.10)
    card = batch_card(house, strong, 10.0)
    assert card.meat is not None
    assert card.meat.judgement.over
    assert any("do not make it so" in warning for warning in card.warnings)


def test_a_cure_too_small_to_weigh_is_told(house: House):
    """Less than a fine scale can tell well is a reason for a larger batch."""
    tiny = recipe(salt(0.02, "of meat"), cure(0.0025, "of meat"), kind=RecipeKind.CURE)
    assert any("larger batch" in w for w in batch_card(house, tiny, 0.3).warnings)
    assert not any("larger batch" in w for w in batch_card(house, tiny, 5.0).warnings)


def test_the_cuts_a_recipe_is_used_on(house: House):
    """The house's steps tell which cuts take a recipe."""
    takers = cuts_taking(house, house.recipes["turkey-brine"])
    assert {cut.handling for cut in takers} == {Handling.POULTRY}


def test_every_recipe_of_the_demo_house_can_be_made(house: House):
    """Whatever the recipe, the card sums to its batch and its nitrite is not over."""
    for made in house.recipes.values():
        card = batch_card(house, made, 10.0)
        lines = card.batch.ingredients
        assert sum(line.grams for line in lines) == pytest.approx(1_000 * card.batch.batch_kg)
        assert card.meat is None or not card.meat.judgement.over
