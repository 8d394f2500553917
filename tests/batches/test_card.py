"""One batch worked out for the meat, with what to mind."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from board.batches.card import batch_card, planned_hours
from board.batches.served import cuts_taking
from board.house.files import read_house
from board.house.model import Handling, House, Ingredient, RecipeKind
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
    assert card.ready_from == made_at + timedelta(minutes=25)
    assert card.use_by == made_at + timedelta(hours=24)


def test_a_cover_brine_too_short_for_the_middle_is_told(house: House):
    """Hours in a brine do not season the middle of a bird; the card says so."""
    card = batch_card(house, house.recipes["turkey-brine"], 12.0)
    assert card.spread is not None
    assert any("outside ends saltier" in warning for warning in card.warnings)


def test_an_over_dose_is_told(house: House):
    """A dose over the limit is refused, and the warnings begin with it."""
    strong = recipe(water(1.0), salt(0.1), cure(0.05), kind=RecipeKind.CURE, use=0.12, pickup=0.10)
    card = batch_card(house, strong, 10.0)
    assert card.meat is not None
    assert card.meat.judgement.over
    assert card.warnings[: len(card.refused)] == card.refused != ()


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


def test_salt_of_the_brine_and_the_rub_are_put_together(house: House):
    """A bird brined and rubbed: both salts over the meat and all that stays in it, on either card."""
    brine = batch_card(house, house.recipes["chicken-brine"], 20.0)
    rub = batch_card(house, house.recipes["bird-rub"], 20.0, cut=house.cuts["chicken-half"])
    assert brine.meat is not None
    assert rub.meat is not None
    assert brine.together is not None
    assert rub.together is not None
    seasoned_kg = 20.0 + brine.meat.kept_kg + rub.meat.kept_kg
    salt_percent = (brine.meat.salt_g + rub.meat.salt_g) / 10 / seasoned_kg
    assert brine.together.salt_percent == pytest.approx(salt_percent)
    assert rub.together.salt_percent == pytest.approx(salt_percent)


def test_a_recipe_beside_counts_and_a_glaze_does_not(house: House):
    """What else goes on the meat is added; what stays outside is not."""
    ham = house.recipes["ham-cure"]
    alone = batch_card(house, ham, 20.0)
    rubbed = batch_card(house, ham, 20.0, beside=[house.recipes["pork-rub"]])
    glazed = batch_card(house, ham, 20.0, beside=[house.recipes["mustard-glaze"]])
    assert alone.together is None
    assert batch_card(house, ham, 20.0, beside=[ham]).together is None
    assert glazed.together is None
    assert rubbed.together is not None
    assert alone.meat is not None
    assert rubbed.together.salt_percent > alone.meat.salt_percent
    assert rubbed.together.nitrite_ppm == pytest.approx(alone.meat.nitrite_ppm)


def test_two_cures_on_one_cut_are_judged_together(house: House):
    """150 ppm pumped and 150 ppm rubbed on are within their limits apart and over the strictest together."""
    from_pump = recipe(water(10.0), cure(0.2459), kind=RecipeKind.CURE, use=0.12, pickup=0.10)
    dry = replace(
        recipe(salt(0.02, "of meat"), cure(0.0024, "of meat"), kind=RecipeKind.CURE), name="dry cure"
    )
    card = batch_card(house, replace(from_pump, id="ham-cure"), 20.0, beside=[dry])
    (said,) = card.refused
    assert said.endswith("put it in one of them only")
    assert card.together is not None
    assert card.together.nitrite_ppm == pytest.approx(300, abs=1)
    assert card.together.judgement.over
    assert card.together.judgement.limit_ppm == 200


def test_nitrate_of_two_cures_is_judged_together(house: House):
    """1,500 mg/kg rubbed on is within 2,187.5 (9 CFR 424.21(c), dry); twice that, 3,000, is over it."""
    slow = Ingredient("slow curing salt", 0.0375, "of meat", "cure", nitrite=0.0005, nitrate=0.04)
    dry = recipe(salt(0.02, "of meat"), slow, kind=RecipeKind.CURE)
    card = batch_card(house, dry, 20.0, beside=[replace(dry, id="again", name="second cure")])
    assert card.meat is not None
    assert card.meat.nitrate is not None
    assert not card.meat.nitrate.over
    assert card.together is not None
    assert card.together.nitrate_ppm == pytest.approx(3_000)
    assert card.together.over
    (said,) = card.refused
    assert "bring 3000 ppm of sodium nitrate, over the limit of 2187.5 ppm" in said


def test_the_planned_hours_follow_from_the_steps(house: House):
    """A cover brine counts its hours in it, then the wait for the pit; a pump all the gaps to loading."""
    lain = planned_hours(house.recipes["turkey-brine"], house.cuts["turkey-whole"])
    assert lain == pytest.approx((16.0, 0.0))
    pumped = planned_hours(house.recipes["ham-cure"], house.cuts["ham-bone-in"])
    assert pumped == pytest.approx((5 * 24 + 6.0, 0.0))
    assert planned_hours(house.recipes["rib-glaze"], None) == (0.0, 0.0)


def test_the_meats_own_water_is_its_cuts(house: House):
    """A fat cut has less water to share a cover brine's salt with than a lean one."""
    cover = recipe(water(1.0), salt(0.06), use=0.6, immersed_minutes=1_440)
    fat = batch_card(house, cover, 10.0, cut=house.cuts["beef-ribs"])
    lean = batch_card(house, cover, 10.0, cut=house.cuts["turkey-breast"])
    assert fat.meat is not None
    assert lean.meat is not None
    assert fat.meat.salt_percent < lean.meat.salt_percent
    ribs_water = house.cuts["beef-ribs"].composition.water * 10.0
    share = ribs_water / (ribs_water + fat.batch.grams("water") / 1_000)
    assert fat.meat.salt_g == pytest.approx(share * fat.batch.salt_g)


def test_one_step_of_the_scale_is_told_in_ppm(house: House):
    """0.75 g of a 6.25 % blend on 0.1 g steps: one step is 0.1/0.75 of 156 ppm, 21 ppm."""
    tiny = recipe(salt(0.02, "of meat"), cure(0.0025, "of meat"), kind=RecipeKind.CURE)
    (said,) = (w for w in batch_card(house, tiny, 0.3).warnings if "one step" in w)
    assert "0.75 g is too little to weigh well; one step of the scale, 0.1 g, is 21 ppm" in said


def test_rounding_up_past_the_limit_is_told(house: House):
    """A dose on its limit whose shown grams are a little more says which amount is within it."""
    ground = replace(
        recipe(salt(0.02, "of meat"), cure(0.0025, "of meat"), kind=RecipeKind.CURE), product="ground"
    )
    said = batch_card(house, ground, 10.03).warnings  # 25.075 g shows as 25.1
    assert any("25.1 g a scale shows is a little over the limit; weigh 25 g" in w for w in said)
    assert not any("a little over" in w for w in batch_card(house, ground, 10.0).warnings)


def test_a_blends_own_name_is_read_too(house: House):
    """A blend called 6.25 % and reckoned as 0.6 % is a slip somebody can still catch."""
    named = replace(cure(0.0025, "of meat", nitrite=0.006), name="curing salt 6.25 %")
    slip = recipe(salt(0.02, "of meat"), named, kind=RecipeKind.CURE)
    assert any("is called 6.25 %: read the pack" in w for w in batch_card(house, slip, 10.0).warnings)


def test_bacon_is_told_what_else_it_takes(house: House):
    """9 CFR 424.22(b): 550 ppm ascorbate or erythorbate when pumped; with the skin on, a tenth less."""
    lines = (water(10.0), cure(0.192), Ingredient("sodium erythorbate", 0.055, "kg"))
    bacon = replace(recipe(*lines, kind=RecipeKind.CURE, use=0.12, pickup=0.10), product="bacon")
    said = " ".join(batch_card(house, bacon, 20.0).warnings)
    assert "550 ppm of sodium ascorbate or erythorbate; this batch leaves 537 ppm" in said
    assert "a tenth off" in said


def test_too_much_erythorbate_is_told(house: House):
    """9 CFR 424.21(c), printed 547 ppm: a ham pumped with 600 is told, one with 540 is not."""
    for grams, told in ((60.0, True), (54.0, False)):
        lines = (water(9.7), cure(0.192), Ingredient("sodium erythorbate", grams / 1_000, "kg"))
        ham = recipe(*lines, kind=RecipeKind.CURE, use=0.12, pickup=0.10)
        said = [w for w in batch_card(house, ham, 20.0).warnings if "erythorbate" in w]
        assert bool(said) is told, grams


@pytest.mark.parametrize(
    ("acid_g", "salt_g", "words"),
    [
        (46.8, 0.0, ""),
        (47.0, 0.0, "470 ppm of ascorbic or erythorbic acid is over the 469 ppm"),
        (23.4, 27.3, ""),
        (23.5, 27.5, "275 ppm of sodium ascorbate or erythorbate beside 235 of its acid is over"),
    ],
)
def test_ascorbic_acid_has_its_own_limit(house: House, acid_g: float, salt_g: float, words: str):
    """9 CFR 424.21(c): 0.75 oz of the acid, 0.875 of the salt to 100 lb, and of both their shares of that."""
    each = (("ascorbic acid", acid_g), ("sodium erythorbate", salt_g))
    lines = [Ingredient(name, grams / 1_000, "kg") for name, grams in each if grams]
    wet = water(10 - 0.192 - (acid_g + salt_g) / 1_000)
    ham = recipe(wet, cure(0.192), *lines, kind=RecipeKind.CURE, use=0.12, pickup=0.10)
    said = " ".join(w for w in batch_card(house, ham, 20.0).warnings if "orb" in w)
    assert words in said
    assert bool(words) is bool(said)


def test_allergens_the_house_does_not_name_are_hinted_at(house: House):
    """Butter's milk is the house's own word in the glaze; molasses' sulphites are a hint."""
    glaze = batch_card(house, house.recipes["rib-glaze"], 10.0)
    assert glaze.batch.allergens == ("soybeans", "wheat")
    assert [hint.ingredient for hint in glaze.hints] == ["molasses"]
