"""A cure over its limit: what is said, and that nothing with it is committed."""

import re
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.limits import Agent, Code, Method, Product, limit_for
from board.batches.meat import in_the_meat
from board.batches.nitrite import ingoing_ppm, judged
from board.batches.refused import Making, refusals, refused_recipes, too_much
from board.batches.scale import scaled
from board.house.files import read_house
from board.house.model import House, Ingredient, Recipe, RecipeKind
from board.house.seeds import seed_house

from .recipes import cure, recipe, salt, water

ON = date(2026, 12, 9)


@pytest.fixture(scope="module")
def house() -> House:
    """The demo house."""
    return read_house(seed_house("tallow_row"))


def with_cure(house: House, made: Recipe) -> House:
    """The house with one recipe more, used on its ham in place of the ham cure."""
    return replace(house, recipes={**house.recipes, "ham-cure": replace(made, id="ham-cure")})


def strong(grams: float) -> Recipe:
    """A pickle of 10 kg of water and so many grams of 6.25 % blend, pumped at 10 %."""
    made = recipe(water(10.0), cure(grams / 1_000), kind=RecipeKind.CURE, use=0.12, pickup=0.10)
    return replace(made, name="strong pickle")


def test_the_demo_house_has_no_cure_over_its_limit(house: House):
    """Nothing is refused that may be made."""
    assert refused_recipes(house, ON) == {}


def test_over_the_limit_names_the_batch_the_dose_the_limit_and_what_would_be_within(house: House):
    """600 g in 10.6 kg pumped at 10 % is 354 ppm; 330 g in 10.33 kg is 199.7 ppm, 331 g 200.3 ppm."""
    over = with_cure(house, strong(600))
    (said,) = refusals(over, [Making("1209-ham-cure", "ham-cure", ("ham-bone-in",), 10.6 / 0.12, ON)])
    assert said.startswith("1209-ham-cure: 353.8 ppm of sodium nitrite in ham is over the limit of 200 ppm")
    assert "9 CFR 424.21(c)" in said
    assert "330 g of curing salt in place of 600 g is within it" in said


def told_grams(said: str) -> float:
    """The grams a refusal says would be within the limit."""
    found = re.search(r"([\d.]+) g of curing salt in place of", said)
    assert found
    return float(found[1])


@given(grams=st.floats(345, 3_000), meat=st.floats(20, 500), lain=st.booleans())
def test_the_dose_that_is_told_is_within_and_hardly_less(grams: float, meat: float, lain: bool):
    """The same batch with the blend that is told, all else as it stands, is within the limit by under 1 %."""
    made = strong(grams) if not lain else replace(strong(3 * grams), immersed_minutes=9e3, pickup=0.0)
    if lain:
        made = replace(made, use_kg_a_kg=1.0)
    batch = scaled(made, meat)
    kept = in_the_meat(batch)
    assert kept is not None
    assert kept.over
    (said,) = too_much("b", batch, kept)
    cure_g = told_grams(said)
    less_kg = batch.batch_kg - (batch.cures[0].grams - cure_g) / 1_000
    ppm = ingoing_ppm(
        kept.method, nitrite_g=cure_g / 16, green_kg=meat, batch_kg=less_kg, pickup=batch.pickup
    )
    assert 198 < ppm <= 200 * (1 + 1e-9)


def test_exactly_on_the_limit_is_not_refused(house: House):
    """2 in 1000 of pickle at 10 % is 200 ppm, which the rule allows; a thousandth more is refused."""
    on = replace(recipe(water(0.998), cure(0.002, nitrite=1.0), use=0.12, pickup=0.10), name="on")
    past = replace(recipe(water(0.997998), cure(0.002002, nitrite=1.0), use=0.12, pickup=0.10), name="past")
    making = [Making("b", "ham-cure", ("ham-bone-in",), 45.0, ON)]
    assert refusals(with_cure(house, on), making) == ()
    assert len(refusals(with_cure(house, past), making)) == 1


def test_a_strength_that_is_not_stated_is_refused(house: House):
    """Without the share of nitrite the dose cannot be told, so the plan is not committed."""
    unstated = recipe(water(1.0), cure(0.01, nitrite=0.0), kind=RecipeKind.CURE, pickup=0.1)
    (said,) = refusals(with_cure(house, unstated), [Making("b", "ham-cure", ("ham-bone-in",), 45.0, ON)])
    assert "must state" in said


def test_nitrate_in_bacon_is_refused(house: House):
    """9 CFR 424.22(b): no nitrate in bacon, however little."""
    blend = Ingredient("curing salt", 0.0001, "of meat", "cure", nitrite=0.0625, nitrate=0.04)
    bacon = replace(
        recipe(salt(0.02, "of meat"), blend, kind=RecipeKind.CURE), name="bacon cure", product="bacon"
    )
    (said,) = refusals(with_cure(house, bacon), [Making("bacon cure", "ham-cure", (), 10.0, ON)])
    assert "sodium nitrate is over the limit of 0 ppm" in said
    assert "leave out curing salt" in said


def test_the_house_chooses_the_table(house: House):
    """180 ppm is within the United States' limit and over the European Union's."""
    made = with_cure(house, strong(1_800 / (6.25 - 0.18)))
    making = [Making("b", "ham-cure", ("ham-bone-in",), 45.0, ON)]
    assert refusals(made, making, "us") == ()
    assert len(refusals(made, making, "eu")) == 1


@pytest.mark.parametrize(("on", "ppm"), [(date(2025, 10, 8), 150.0), (date(2025, 10, 9), 120.0)])
def test_the_european_limit_changes_on_its_day(on: date, ppm: float):
    """Regulation (EU) 2023/2108 applies from 9 October 2025; before it, 150 mg/kg added (EFSA 2017)."""
    limit = limit_for(Code("eu", on=on), Method.PUMPED)
    assert limit is not None
    assert limit.ppm == ppm


@pytest.mark.parametrize(
    ("method", "ppm"), [(Method.PUMPED, 700), (Method.DRY, 2187.5), (Method.COMMINUTED, 1718.75)]
)
def test_nitrate_limits_of_the_united_states(method: Method, ppm: float):
    """9 CFR 424.21(c): 7 lb per 100 gal at 10 %, 3 1/2 oz and 2 3/4 oz per 100 lb."""
    product = Product.GROUND if method is Method.COMMINUTED else Product.WHOLE
    assert judged(ppm, Code("us", product), method, Agent.NITRATE).verdict.startswith("within")
    assert judged(ppm * 1.001, Code("us", product), method, Agent.NITRATE).over


def test_a_residual_limit_never_fails_what_goes_in():
    """Codex binds what is left: at or under it all is well, over it only a test tells."""
    assert judged(120, Code("codex"), Method.PUMPED).verdict.startswith("within")
    more = judged(150, Code("codex"), Method.PUMPED)
    assert (more.verdict[:9], more.over) == ("not shown", False)


def test_a_place_without_a_table_is_not_shown():
    """A jurisdiction the board has no table for neither passes nor fails."""
    assert judged(100, Code("elsewhere"), Method.PUMPED).verdict.startswith("not shown")


def test_two_cures_of_one_cut_are_refused_together(house: House):
    """Each within its limit, both on the same ham are over the strictest: each card says so by its name."""
    dry = replace(
        recipe(salt(0.02, "of meat"), cure(0.0024, "of meat"), kind=RecipeKind.CURE),
        id="rub",
        name="dry cure",
    )
    ham = house.cuts["ham-bone-in"]
    steps = (*ham.prep, replace(ham.prep[0], what="rub", recipe="rub"))
    both = replace(
        with_cure(house, strong(245.9)),
        cuts={**house.cuts, ham.id: replace(ham, prep=steps)},
    )
    both = replace(both, recipes={**both.recipes, "rub": dry})
    (said,) = refusals(both, [Making("1209-ham-cure", "ham-cure", ("ham-bone-in",), 45.0, ON)])
    assert said.startswith("1209-ham-cure: strong pickle and dry cure bring 300")
    assert said.endswith("put it in one of them only")
