"""Whether meat really lies covered, and that what is planned, weighed and counted is one batch."""

from dataclasses import replace

import pytest

from board.batches.card import batch_card
from board.batches.scale import scaled
from board.batches.served import Served, dose_kg, litres_to_cover
from board.errors import BoardError
from board.house.files import read_house
from board.house.library import library_cut
from board.house.model import Container, House, Ingredient, RecipeKind
from board.house.seeds import seed_house

from .recipes import cure, recipe, salt, water


@pytest.fixture(scope="module")
def house() -> House:
    """The demo house."""
    return read_house(seed_house("tallow_row"))


def test_a_tub_full_of_meat_has_no_room_to_cover_it(house: House):
    """10 kg leave 2 L of an 11.5 L tub: that covers nothing, and is no injection all of a sudden.

    A quarter of a litre a kilogram is the least; common practice, no source.
    """
    meat = Served(10.0, library_cut("pork-loin"), 2)
    assert litres_to_cover(meat.litres + 2.5 + 1e-9, meat) == pytest.approx(2.5)
    with pytest.raises(BoardError, match=r"lie covered in 0\.25 L a kilogram"):
        litres_to_cover(meat.litres + 2.49, meat)
    cover = recipe(water(4.7), salt(0.06), cure(0.03), use=0.5, pickup=0.10, immersed_minutes=1_440)
    with pytest.raises(BoardError, match="lie covered"):
        batch_card(house, cover, 10.0, container=11.5, cut=meat.cut)
    assert batch_card(house, cover, 10.0, container=12.1, cut=meat.cut).ml_a_piece is None


def test_a_container_of_the_house_is_filled_to_what_it_takes(house: House):
    """A tub of 83 L that takes 50 kg of batch and meat gets 38 kg of brine round 12 kg, and no brimful."""
    tub = Container("tub", "tub", 83.0, 50.0)
    turkeys = house.cuts["turkey-whole"]
    card = batch_card(house, house.recipes["turkey-brine"], 12.0, cut=turkeys, container=tub)
    assert card.batch.batch_kg == pytest.approx(38.0)
    assert card.meat is not None
    assert card.meat.method == "immersion"
    with pytest.raises(BoardError, match="which takes 50 kg; take more than one"):
        batch_card(house, house.recipes["turkey-brine"], 41.0, cut=turkeys, container=tub)


def test_a_cover_brine_too_small_to_cover_is_told(house: House):
    """1 kg of brine for 10 kg of meat to lie in is told; 2.5 kg is not."""
    for use, told in ((0.1, True), (0.25, False)):
        small = recipe(water(1.0), salt(0.06), use=use, immersed_minutes=600)
        said = batch_card(house, small, 10.0, cut=house.cuts["pork-loin"]).warnings
        assert any("does not cover" in w for w in said) is told


def test_what_is_counted_of_the_meat_fills_no_container(house: House):
    """A brine of 50 % and 3 % of the meat is 5.3 kg for 10 kg, whatever the tub: the tub is refused."""
    shares = recipe(water(0.5, "of meat"), salt(0.03, "of meat"), use=0.5, immersed_minutes=600)
    with pytest.raises(BoardError, match="counted of the meat"):
        batch_card(house, shares, 10.0, container=40.0)


def test_an_injection_by_volume_grows_with_its_pickup():
    """80 mL to a kilogram at 8 % of pickup is 100 mL to a kilogram at 10 %; at its own, what it was."""
    by_volume = replace(recipe(water(1.0), salt(0.1), use=0.0, pickup=0.08), use_l_a_kg=0.08)
    written = scaled(by_volume, 10.0)
    assert written.litres == pytest.approx(0.8)
    assert scaled(by_volume, 10.0, pickup=0.08).batch_kg == pytest.approx(written.batch_kg)
    more = scaled(by_volume, 10.0, pickup=0.10)
    assert (more.litres, more.pickup) == (pytest.approx(1.0), 0.10)


def test_what_is_planned_is_what_is_weighed():
    """Water by the meat and salt of the water come to 53 % of it, though 60 % is written as used."""
    shares = recipe(water(0.5, "of meat"), salt(0.06), use=0.6, immersed_minutes=600)
    planned = dose_kg(shares, library_cut("pork-loin"), 2, 5.0)
    assert planned == pytest.approx(scaled(shares, 10.0).batch_kg) == pytest.approx(5.3)


def test_erythorbate_of_a_cover_brine_is_shared_like_its_nitrite(house: House):
    """8 g in 5 kg of brine round 10 kg of meat end at 533 ppm, not at the 800 of all of it: within 547."""
    lines = (water(4.962), cure(0.03), Ingredient("sodium erythorbate", 0.008, "kg"))
    cover = recipe(*lines, use=0.5, immersed_minutes=1_440)
    assert not any("erythorbate" in w for w in batch_card(house, cover, 10.0).warnings)
    strong = replace(cover, ingredients=(*lines[:2], Ingredient("sodium erythorbate", 0.0083, "kg")))
    assert any("553 ppm of sodium" in w for w in batch_card(house, strong, 10.0).warnings)


def test_a_recipe_given_twice_counts_twice(house: House):
    """A dry cure rubbed on in two steps brings its nitrite, and its salt, with each of them."""
    dry = recipe(salt(0.02, "of meat"), cure(0.006, "of meat"), kind=RecipeKind.CURE)
    loin = house.cuts["pork-loin"]
    rub = replace(loin.prep[0], what="rub", recipe=dry.id)
    for steps, ppm in (((rub,), None), ((rub, rub), 750.0)):
        twice = replace(loin, prep=steps)
        kitchen = replace(house, recipes={dry.id: dry}, cuts={loin.id: twice})
        found = batch_card(kitchen, dry, 10.0, cut=twice).together
        assert (found.nitrite_ppm if found else None) == (pytest.approx(ppm) if ppm else None)
        assert found is None or found.judgement.over
