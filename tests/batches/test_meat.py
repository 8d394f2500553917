"""Salt and sugar that stay in the meat."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.meat import in_the_meat, lean_water
from board.batches.scale import scaled
from board.house.model import Ingredient, RecipeKind

from .recipes import cure, recipe, salt, sugar, water


def test_salt_after_a_pump():
    """15 % brine pumped at 20 % leaves 2.5 % salt: brine strength x p / (1 + p), nothing dripping out."""
    meat = in_the_meat(scaled(recipe(water(0.85), salt(0.15, "kg"), use=0.2, pickup=0.2), 10.0))
    assert meat is not None
    assert meat.salt_percent == pytest.approx(2.5)
    assert meat.pickup_percent == pytest.approx(20.0)


def test_the_basic_injection_brine():
    """1 L water, 100 g salt, 100 g sugar; 750 mL into 10 kg leaves about 0.63 % of each.

    The recipe is common practice, no source; 750 mL at 1.095 kg/L is 8.2 % of the green mass.
    """
    brine = recipe(water(1.0), salt(0.1), sugar(0.1), use=0.0821, pickup=0.0821)
    batch = scaled(brine, 10.0)
    meat = in_the_meat(batch)
    assert meat is not None
    assert batch.litres == pytest.approx(0.75, abs=0.001)
    assert meat.salt_percent == pytest.approx(100 / 12 * 0.0821 / 1.0821, rel=1e-3)
    assert meat.sugar_percent == pytest.approx(meat.salt_percent)


def test_the_carrier_of_a_cure_is_salt():
    """What is not nitrite in a blend is salt, and counts."""
    dry = recipe(salt(0.02, "of meat"), cure(0.004, "of meat"), kind=RecipeKind.CURE)
    assert scaled(dry, 1.0).salt_g == pytest.approx(20 + 4 * (1 - 0.0625))


def test_a_glaze_stays_outside():
    """Nothing is told of the meat for a glaze."""
    assert in_the_meat(scaled(recipe(sugar(1.0, "kg"), kind=RecipeKind.GLAZE, use=0.05), 2.0)) is None


def test_a_pickup_past_what_was_made_is_all_of_it():
    """No more can stay in the meat than there was."""
    meat = in_the_meat(scaled(recipe(salt(0.5, "kg"), kind=RecipeKind.RUB, use=0.02, pickup=0.05), 10.0))
    assert meat is not None
    assert meat.pickup_percent == pytest.approx(2.0)


@given(cover=st.floats(0.3, 3.0), strength=st.floats(0.01, 0.2), meat_kg=st.floats(0.5, 100))
def test_a_cover_brine_shares_its_salt_by_water(cover: float, strength: float, meat_kg: float):
    """At the end brine and meat hold salt alike for their water, and none is lost."""
    batch = scaled(recipe(water(1.0), salt(strength), use=cover, immersed_minutes=1_440), meat_kg)
    meat = in_the_meat(batch)
    assert meat is not None
    in_meat_g = meat.salt_percent / 100 * (1_000 * meat_kg * (1 + meat.pickup_percent / 100))
    left_g = batch.salt_g - in_meat_g
    assert left_g > 0
    per_meat_water = in_meat_g / (lean_water() * meat_kg)
    assert per_meat_water == pytest.approx(left_g / (batch.grams("water") / 1_000))


@given(
    pickup=st.floats(0.0, 0.3),
    cover=st.floats(0.05, 2.0),
    strength=st.floats(0.01, 0.2),
    lain=st.booleans(),
    meat_kg=st.floats(0.5, 100),
)
def test_no_salt_is_made_or_lost(pickup: float, cover: float, strength: float, lain: bool, meat_kg: float):
    """What the meat keeps and what is left of the batch are the batch; kept per cents give the kept grams."""
    minutes = 1_440.0 if lain else None
    batch = scaled(
        recipe(water(1.0), salt(strength), use=cover, pickup=pickup, immersed_minutes=minutes), meat_kg
    )
    meat = in_the_meat(batch)
    assert meat is not None
    assert 0 <= meat.salt_g <= batch.salt_g * (1 + 1e-9)
    seasoned_g = 1_000 * (meat_kg + meat.kept_kg)
    assert meat.salt_percent / 100 * seasoned_g == pytest.approx(meat.salt_g)
    assert meat.pickup_percent == pytest.approx(100 * meat.kept_kg / meat_kg)


def test_a_brine_of_cider_is_a_brine_though_nobody_calls_it_water():
    """Meat lies in it, so it is a liquid; what is neither salt nor sugar shares as if it were water."""
    cider = Ingredient("cider", 0.94, "kg")
    batch = scaled(recipe(cider, salt(0.06, "kg"), use=0.5, immersed_minutes=600), 10.0)
    meat = in_the_meat(batch)
    assert meat is not None
    assert meat.method == "immersion"
    assert meat.salt_g == pytest.approx(batch.salt_g * 7.2 / (7.2 + 0.94 * 5))


def test_a_dry_cure_is_dry_however_long_meat_lies_in_it():
    """A box of salt and blend for a week is no brine: all of its nitrite counts, not a share by water."""
    lines = (salt(0.02, "of meat"), sugar(0.01, "of meat"), cure(0.0025, "of meat"))
    boxed = in_the_meat(scaled(recipe(*lines, kind=RecipeKind.CURE, immersed_minutes=10_080), 4.0))
    by_weight = (salt(0.8, "kg"), sugar(0.2, "kg"), cure(0.05))
    rubbed = in_the_meat(scaled(recipe(*by_weight, kind=RecipeKind.CURE, immersed_minutes=10_080), 4.0))
    assert boxed is not None
    assert rubbed is not None
    assert (boxed.method, rubbed.method) == ("dry", "dry")
    assert boxed.nitrite_ppm == pytest.approx(156.25)
