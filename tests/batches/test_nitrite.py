"""Ingoing nitrite by method, against worked cases and the limits of a place."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.limits import Agent, Code, Method, Product, limit_for, places
from board.batches.meat import in_the_meat
from board.batches.nitrite import ingoing_ppm, judged
from board.batches.scale import scaled
from board.batches.tables import table
from board.errors import BoardError
from board.house.model import RecipeKind

from .recipes import cure, recipe, salt, water

LB, OZ = 453.59237, 28.349523125  # grams
PUMPED, IMMERSION, DRY, COMMINUTED = Method.PUMPED, Method.IMMERSION, Method.DRY, Method.COMMINUTED

# worked by hand with the formulas of USDA FSIS Directive 7620.3, chapter 3
WORKED = [
    ("1/4 oz to 100 lb ground", COMMINUTED, 0.25 * OZ, 100 * LB / 1_000, 1.0, 0.0, 156.25),
    ("25 g of 6.25 % to 10 kg ground", COMMINUTED, 25 * 0.0625, 10.0, 1.0, 0.0, 156.25),
    ("2 lb in 1000 lb of pickle at 10 %", PUMPED, 2 * LB, 45.0, 1_000 * LB / 1_000, 0.10, 200.0),
    ("800 g of 6.25 % in 50 kg at 12 %", PUMPED, 800 * 0.0625, 9.0, 50.0, 0.12, 120.0),
    ("1.92 kg of 6.25 % in 100 kg at 10 %", PUMPED, 1_920 * 0.0625, 9.0, 100.0, 0.10, 120.0),
    ("30 g of 6.25 %, 10 kg in 5 kg, to the end", IMMERSION, 30 * 0.0625, 10.0, 5.0, 0.0, 125.0),
    ("30 g of 6.25 % in 5 kg, 10 % taken up", IMMERSION, 30 * 0.0625, 10.0, 5.0, 0.10, 37.5),
    ("1 oz to 100 lb dry", DRY, OZ, 100 * LB / 1_000, 1.0, 0.0, 625.0),
    ("3.2 g of 6.25 % to 1 kg of bacon, dry", DRY, 3.2 * 0.0625, 1.0, 1.0, 0.0, 200.0),
]


@pytest.mark.parametrize("case", WORKED, ids=lambda case: case[0])
def test_worked_doses(case: tuple[str, Method, float, float, float, float, float]):
    """Each worked case of the handbook's formulas comes out exactly."""
    _, method, nitrite_g, green_kg, batch_kg, pickup, ppm = case
    found = ingoing_ppm(method, nitrite_g=nitrite_g, green_kg=green_kg, batch_kg=batch_kg, pickup=pickup)
    assert found == pytest.approx(ppm, rel=1e-9)


def test_a_pumped_recipe_follows_the_pickle_formula():
    """The same 200 ppm from a recipe: 2 parts of nitrite in 1000 of pickle, pumped at 10 %."""
    pickle = recipe(water(998.0), cure(2.0, nitrite=1.0), kind=RecipeKind.CURE, use=0.12, pickup=0.10)
    meat = in_the_meat(scaled(pickle, 45.0))
    assert meat is not None
    assert meat.method is PUMPED
    assert meat.nitrite_ppm == pytest.approx(200.0)
    assert meat.judgement.verdict == "within the limit of 200 ppm of sodium nitrite"


def test_a_cover_brine_says_what_leaving_the_meat_in_would_give():
    """10 kg in 5 kg of brine: 37.5 ppm by a tenth of pickup, and the note tells the 125 ppm of the end."""
    cover = recipe(water(4.97), cure(0.03), use=0.5, pickup=0.10, immersed_minutes=1_440)
    meat = in_the_meat(scaled(cover, 10.0))
    assert meat is not None
    assert meat.nitrite_ppm == pytest.approx(37.5)
    assert any("125 ppm" in note for note in meat.notes)


def test_without_a_stated_pickup_a_cover_brine_runs_to_the_end():
    """No pickup stated: the dose is counted at equilibrium."""
    meat = in_the_meat(scaled(recipe(water(4.97), cure(0.03), use=0.5, immersed_minutes=1_440), 10.0))
    assert meat is not None
    assert meat.nitrite_ppm == pytest.approx(125.0)


@pytest.mark.parametrize(
    ("product", "method", "ppm"),
    [
        (Product.WHOLE, PUMPED, 200.0),
        (Product.WHOLE, DRY, 625.0),
        (Product.GROUND, COMMINUTED, 156.25),
        (Product.BACON, PUMPED, 120.0),
        (Product.BACON, DRY, 200.0),
    ],
)
def test_united_states_limits(product: Product, method: Method, ppm: float):
    """9 CFR 424.21(c) and 424.22(b); the 156 printed for ground meat is the 156.25 of a quarter ounce."""
    limit = limit_for(Code("us", product), method)
    assert limit is not None
    assert limit.ppm == ppm


def test_european_limit_is_the_ion_turned_into_the_salt():
    """80 mg/kg as nitrite ion (Regulation (EU) 2023/2108) is 120 mg/kg as sodium nitrite, 69.00/46.01."""
    limit = limit_for(Code("eu"), PUMPED)
    assert limit is not None
    assert limit.ppm == pytest.approx(80 * 69.00 / 46.01, abs=0.05)


@pytest.mark.parametrize(("ppm", "side"), [(156.25, "within"), (156.0, "within"), (156.2501, "over")])
def test_exactly_on_the_limit_is_within_it(ppm: float, side: str):
    """A quarter ounce to 100 lb is the rule itself, though it prints as 156."""
    assert judged(ppm, Code("us", Product.GROUND), COMMINUTED).verdict.startswith(side)


def test_bacon_must_have_what_the_rule_names():
    """Pumped bacon has one figure, neither more nor less."""
    bacon = Code("us", Product.BACON)
    assert judged(110, bacon, PUMPED).verdict == "under the 120 ppm this product must have"
    assert judged(120, bacon, PUMPED).verdict.startswith("within")
    assert judged(121, bacon, PUMPED).over


def test_a_method_without_a_row_is_not_shown():
    """Where the table has no limit the verdict says so instead of passing the dose."""
    assert judged(100, Code("us", Product.GROUND), PUMPED).verdict.startswith("not shown")


def test_without_nitrite_it_is_fresh_meat():
    """An injection of salt and sugar seasons; it does not cure."""
    meat = in_the_meat(scaled(recipe(water(1.0), salt(0.1), use=0.08, pickup=0.075), 10.0))
    assert meat is not None
    assert "not a cured product" in meat.judgement.verdict


def test_a_cure_must_state_its_strength():
    """A blend without its share of nitrite cannot be dosed."""
    unstated = recipe(water(1.0), cure(0.01, nitrite=0.0), pickup=0.1)
    with pytest.raises(BoardError, match="must state"):
        in_the_meat(scaled(unstated, 10.0))


@pytest.mark.parametrize(
    ("nitrite", "grams_a_kg", "words"),
    [
        (0.0625, 25.0, "meant for a 0.6 % blend"),
        (0.006, 2.5, "meant for a 6.25 % blend"),
        (0.03, 5.0, "usually"),
    ],
)
def test_a_tenfold_mix_up_of_blends_is_caught(nitrite: float, grams_a_kg: float, words: str):
    """A dose meant for one blend and weighed from the other stands out."""
    dry = recipe(salt(0.02, "of meat"), cure(grams_a_kg / 1_000, "of meat", nitrite), kind=RecipeKind.CURE)
    meat = in_the_meat(scaled(dry, 10.0))
    assert meat is not None
    assert any(words in note for note in meat.notes)


def test_every_limit_names_its_source():
    """No figure stands without the rule it was read from and how it was read."""
    assert places() == ("us", "eu", "uk", "codex")
    for place in places():
        for edition in table("nitrite_limits")[place]["editions"]:
            assert edition["read_on"]
            for row in edition["nitrite"] + edition["nitrate"]:
                assert row["source"]
                assert row["how"]


@given(pickup=st.floats(0.01, 0.12), meat=st.floats(0.1, 200))
def test_the_dose_does_not_depend_on_how_much_meat(pickup: float, meat: float):
    """Parts per million are the same for a piece and for a truckload."""
    pickle = recipe(water(10.0), cure(0.3), use=0.12, pickup=pickup)
    one, many = in_the_meat(scaled(pickle, 1.0)), in_the_meat(scaled(pickle, meat))
    assert one is not None
    assert many is not None
    assert many.nitrite_ppm == pytest.approx(one.nitrite_ppm)


def test_pumped_meat_that_then_lies_in_the_rest_may_take_all_of_it():
    """Pumped at 10 % of the 12 % made: 188 ppm by the pump, 226 if all is taken up, which is over 200."""
    made = recipe(
        water(10.0), cure(0.31), kind=RecipeKind.CURE, use=0.12, pickup=0.10, immersed_minutes=8_640
    )
    meat = in_the_meat(scaled(made, 20.0))
    assert meat is not None
    assert not meat.judgement.over
    (said,) = (note for note in meat.notes if "to the end" in note)
    assert said.endswith(f"{meat.nitrite_ppm * 1.2:.0f} ppm of nitrite, over the limit of 200 ppm")


def test_a_limit_for_what_is_not_cooked_is_never_shown_to_be_met():
    """The Union's nitrate limit is for products not heat-treated: 100 ppm is not shown, 151 is over."""
    code = Code("eu", on=date(2024, 6, 1))
    assert judged(100, code, DRY, Agent.NITRATE).verdict.startswith("not shown")
    assert judged(151, code, DRY, Agent.NITRATE).over
