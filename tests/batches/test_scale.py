"""Recipes scaled to the meat they serve."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.scale import scaled
from board.errors import BoardError
from board.house.doses import is_injected
from board.house.model import Ingredient, RecipeKind

from .recipes import cure, recipe, salt, sugar, water

grams = st.floats(0.001, 5.0)


def test_ten_kilograms_of_five_per_cent_brine():
    """A brine written as 5 % by mass comes to 500 g of salt and 9.5 kg of water for 10 kg."""
    batch = scaled(recipe(water(0.95), salt(0.05, "kg"), use=1.0), 10.0)
    assert [line.grams for line in batch.ingredients] == pytest.approx([9_500, 500])
    assert batch.salt_percent == pytest.approx(5.0)


def test_salt_counted_of_water_is_not_per_cent_of_brine():
    """50 g of salt to a kilogram of water is 4.76 % of the brine."""
    batch = scaled(recipe(water(1.0), salt(0.05), use=1.0), 10.0)
    assert batch.salt_percent == pytest.approx(100 * 50 / 1050)


def test_usda_poultry_brine_by_household_measures():
    """USDA's 3/4 cup of table salt (292 g a cup, SR26) to a US gallon of water is 5.47 % by mass."""
    batch = scaled(recipe(water(3.785), salt(0.75 * 0.292, "kg"), use=0.5), 8.0)
    assert batch.salt_percent == pytest.approx(5.47, abs=0.005)


def test_of_meat_follows_the_meat_and_the_rest_fills_up():
    """A cure dosed by the meat keeps its dose; water and salt make up the pickup's kilograms."""
    batch = scaled(recipe(water(1.0), salt(0.2), cure(0.0024, "of meat"), use=0.1), 25.0)
    assert batch.batch_kg == pytest.approx(2.5)
    assert batch.grams("cure") == pytest.approx(60.0)
    assert batch.grams("salt") / batch.grams("water") == pytest.approx(0.2)


def test_all_of_meat_is_simply_their_sum():
    """A dry cure counted of meat makes what its shares come to, whatever `use` says."""
    batch = scaled(recipe(salt(0.025, "of meat"), sugar(0.01, "of meat"), kind=RecipeKind.CURE, use=0.5), 4.0)
    assert batch.batch_kg == pytest.approx(0.14)


def test_pickup_grows_an_injection_with_its_spare():
    """A tenth more pickup makes a tenth more injection, the spare for losses kept in proportion."""
    injection = recipe(water(1.0), salt(0.1), use=0.12, pickup=0.10)
    assert scaled(injection, 10, pickup=0.11).batch_kg == pytest.approx(1.1 * scaled(injection, 10).batch_kg)


def test_pickup_leaves_a_cover_brine_as_it_is():
    """A cover brine's amount covers the meat; pickup only says what the meat takes from it."""
    cover = recipe(water(1.0), salt(0.06), use=0.6, pickup=0.05, immersed_minutes=720)
    assert scaled(cover, 10, pickup=0.10).batch_kg == pytest.approx(6.0)


def test_too_little_to_lie_in_is_injected():
    """A tenth of the meat's mass cannot cover it: that brine is pumped, even if the meat then lies in it."""
    assert is_injected(recipe(water(1.0), use=0.12, pickup=0.1, immersed_minutes=8_640))
    assert not is_injected(recipe(water(1.0), use=0.6, pickup=0.1, immersed_minutes=8_640))
    assert not is_injected(recipe(salt(0.02, "of meat"), kind=RecipeKind.CURE))


def test_densities_of_household_measures():
    """A US cup of honey is 339 g (USDA SR26): its volume hint is a cup's 237 mL to the jug's mark."""
    batch = scaled(recipe(Ingredient("honey", 0.339, "kg", "sugar"), kind=RecipeKind.GLAZE, use=0.339), 1.0)
    assert batch.litres == pytest.approx(0.236588, rel=1e-3)
    assert batch.ingredients[0].volume is not None
    assert batch.ingredients[0].volume.amount == 240


def test_salt_and_cure_have_no_volume_hint():
    """A spoon of one salt weighs twice a spoon of another, so salt and cures show mass only."""
    batch = scaled(recipe(water(1.0), salt(0.1), cure(0.01), use=1.0), 5.0)
    assert [line.volume is None for line in batch.ingredients] == [False, True, True]


def test_litres_of_a_brine_go_by_its_strength():
    """Ten kilograms of 5 % brine fill 9.67 L (CRC density 1.0340 kg/L at 20 °C)."""
    batch = scaled(recipe(water(0.95), salt(0.05, "kg"), use=1.0), 10.0)
    assert batch.litres == pytest.approx(10 / 1.0340, rel=1e-6)


@pytest.mark.parametrize(
    ("made", "words"),
    [
        (recipe(salt(0.1), use=0.1), "no water"),
        (recipe(water(0.0), use=0.1), "nothing to weigh"),
        (recipe(water(1.0), cure(0.2, "of meat"), use=0.1), "leaves no room"),
    ],
)
def test_a_recipe_that_cannot_be_made_says_why(made, words: str):
    """Shares without what they count, no mass at all, or doses past the batch are refused in one line."""
    with pytest.raises(BoardError, match=words):
        scaled(made, 10.0)


def test_an_injection_of_which_nothing_stays_is_refused():
    """A pickup of nought is a slip, told as one; a cover brine may well have none."""
    with pytest.raises(BoardError, match="pickup of 0 %, allowed more"):
        scaled(recipe(water(1.0), salt(0.1), use=0.12, pickup=0.10), 10.0, pickup=0.0)
    cover = recipe(water(1.0), salt(0.06), use=0.6, pickup=0.05, immersed_minutes=720)
    assert scaled(cover, 10.0, pickup=0.0).batch_kg == pytest.approx(6.0)


def test_no_meat_is_refused():
    """A batch for nothing is a slip of the hand."""
    with pytest.raises(BoardError, match="more than 0 kg"):
        scaled(recipe(water(1.0)), 0.0)


@given(w=grams, s=grams, c=st.floats(0, 0.01), use=st.floats(0.05, 1.0), meat=st.floats(0.1, 500))
def test_mass_is_closed(w: float, s: float, c: float, use: float, meat: float):
    """The grams of the lines sum to the batch, and the batch is what the meat takes."""
    batch = scaled(recipe(water(w), salt(s, "kg"), sugar(0.1), cure(c, "of meat"), use=use), meat)
    assert sum(line.grams for line in batch.ingredients) == pytest.approx(1_000 * batch.batch_kg)
    assert batch.batch_kg == pytest.approx(use * meat)


@given(w=grams, s=grams, meat=st.floats(0.1, 100), factor=st.floats(0.01, 100))
def test_scaling_is_linear_and_returns(w: float, s: float, meat: float, factor: float):
    """Twice the meat takes twice of everything; scaling by a factor and back changes nothing."""
    made = recipe(water(w), salt(s, "kg"), cure(0.002, "of meat"), use=0.2)
    once, times = scaled(made, meat), scaled(made, meat * factor)
    assert [line.grams * factor for line in once.ingredients] == pytest.approx(
        [line.grams for line in times.ingredients]
    )
