"""A batch on the scale: what is asked, what was weighed, what it comes to, and what is wrong with a cure."""

from dataclasses import replace
from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.house.model import ChillWay, Scales
from board.ledger.facts import WeighedFacts
from board.views.batch_card import scale_of
from board.views.batches import batches
from board.views.facts import Facts
from board.views.weighing import Scale
from tests.app.house_fixture import at

from .cure_fixture import CURE, KEY, LINES, SERVED, curing

NOW: datetime = at("12:40")


def weighed(*lines: tuple[int, float, float, str | None], curing_salt_kg: float = 0.3) -> Facts:
    """Facts with lines weighed: the line, grams shown, grams asked, and who else read it."""
    told = tuple(
        WeighedFacts(SERVED, CURE, n, LINES[n - 1], grams, asked, "wren", NOW, reader)
        for n, grams, asked, reader in lines
    )
    return curing(NOW, curing_salt_kg=curing_salt_kg, weighed={(SERVED, CURE): told})


def scale(facts: Facts) -> Scale:
    """The cure on the scale."""
    found = scale_of(facts, KEY)
    assert found is not None
    return found


def test_lines_stand_as_the_scale_shows_them() -> None:
    """24 kg of ham take 2.88 kg of cure: 10, 1.8, 0.6 and 0.3 parts of 12.7, the cure to 0.1 g."""
    lines = scale(weighed()).lines
    assert [(line.name, line.amount) for line in lines] == [
        ("water", "2.27 kg"), ("salt", "408 g"), ("brown sugar", "136 g"), ("curing salt", "68 g"),
    ]  # fmt: skip
    assert [line.is_cure for line in lines] == [False, False, False, True]
    assert scale(weighed()).total == "2.882 kg in all"


def test_ice_that_cools_it_is_told_as_part_of_its_water() -> None:
    """Beside all of the water it would thin the cure; a bath of ice around the pot is none of it."""
    facts = curing(NOW)
    for way, told in ((ChillWay.ICE, True), (ChillWay.ICE_BATH, False)):
        plans = {
            day: replace(plan, batches=tuple(replace(batch, ice_kg=1.18) for batch in plan.batches))
            for day, plan in facts.plans.items()
        }
        recipes = {id: replace(recipe, chill=way) for id, recipe in facts.house.recipes.items()}
        found = scale(replace(facts, plans=plans, house=replace(facts.house, recipes=recipes)))
        assert ("1.18 kg of the water goes in as ice after the boil" in found.minds) is told


def test_what_is_weighed_is_ticked_and_summed() -> None:
    """A tick names who weighed it; the sum stands beside what all of it comes to."""
    found = scale(weighed((2, 408.0, 408.0, None)))
    assert found.lines[1].says == "✓ Wren"
    assert [line.name for line in found.left] == ["water", "brown sugar", "curing salt"]
    assert found.total == "1 of 4 weighed: 408 g of 2.882 kg"


def test_the_total_of_all_lines_tells_what_is_over() -> None:
    """When all is on the scale, the sum is held against the recipe's."""
    all_four = weighed((1, 2270.0, 2270.0, None), (2, 420.0, 408.0, None), (3, 136.0, 136.0, None),
                       (4, 68.0, 68.0, "bram"))  # fmt: skip
    assert scale(all_four).total == "all weighed: 2.894 kg of 2.882 kg, 12 g over"
    assert scale(all_four).lines[1].says == "✓ 420 g, 12 g over, Wren"
    assert scale(all_four).minds == ()


def test_a_cure_read_by_one_person_says_so() -> None:
    """The tick and the card both say that nobody else read the scale."""
    alone = scale(weighed((4, 68.0, 68.0, None)))
    assert alone.lines[3].says == "✓ Wren; read by nobody else"
    assert alone.minds == ("curing salt: a second person has not read the scale",)
    assert scale(weighed((4, 68.0, 68.0, "bram"))).minds == ()


@pytest.mark.parametrize(("grams", "told"), [(69.3, False), (69.5, True), (66.6, True)])
def test_a_cure_weighed_off_is_told_beyond_its_tolerance(grams: float, told: bool) -> None:
    """68.03 g may be off by a fiftieth of it, 1.36 g; beyond that the grams and the dose are told."""
    minds = scale(weighed((4, grams, 68.0, "bram"))).minds
    assert any("than the recipe's 68 g" in mind for mind in minds) == told


def test_too_much_cure_tells_its_dose_and_the_limit() -> None:
    """Twice the cure is twice 148 ppm, over the 200 ppm of pumped meat (9 CFR 424.21): weigh it anew."""
    minds = scale(weighed((4, 136.0, 68.0, "bram"))).minds
    assert minds[0].startswith(
        "curing salt: 136 g is 68 g more than the recipe's 68 g; nitrite then 295 ppm, over"
    )
    assert minds[0].endswith("do not use it, weigh it anew")


def test_a_little_over_is_told_where_it_crosses_the_limit() -> None:
    """A recipe just under 200 ppm: a fiftieth more is within the scale's tolerance, and over the limit."""
    near = 0.408
    asked = scale(weighed(curing_salt_kg=near)).lines[3].asked_g
    assert scale(weighed((4, asked, asked, "bram"), curing_salt_kg=near)).minds == ()
    minds = scale(weighed((4, asked + 1.5, asked, "bram"), curing_salt_kg=near)).minds
    assert "over the limit of 200 ppm" in minds[0]
    assert minds[0].endswith("do not use it, weigh it anew")


def test_nitrate_as_weighed_is_told_too() -> None:
    """A blend that brings nitrate as well has both doses told when it is weighed off."""
    facts = weighed((4, 136.0, 68.0, "bram"))
    recipe = facts.house.recipes["ham-cure"]
    blend = replace(recipe.ingredients[3], nitrate=0.04)
    both = replace(recipe, ingredients=(*recipe.ingredients[:3], blend))
    house = replace(facts.house, recipes={**facts.house.recipes, "ham-cure": both})
    minds = scale(replace(facts, house=house)).minds
    assert any("nitrite then 295 ppm" in mind and "nitrate then 189 ppm" in mind for mind in minds)


def test_a_recipe_over_its_limit_is_told_before_it_is_weighed() -> None:
    """A cure whose recipe is over the limit says what is over and what would be within it."""
    minds = scale(weighed(curing_salt_kg=0.6)).minds
    assert any("over the limit of 200 ppm" in mind for mind in minds)
    card = batches(weighed(curing_salt_kg=0.6), KEY).card
    assert card is not None
    assert set(minds) <= set(card.warnings)


def test_what_was_weighed_by_an_older_card_says_so() -> None:
    """A line weighed when the card asked for something else is told apart."""
    assert scale(weighed((2, 300.0, 300.0, None))).minds == (
        "salt was weighed when the card asked for 300 g; the card has changed since",
    )


def test_what_was_weighed_of_another_ingredient_ticks_no_line() -> None:
    """Where a recipe's lines were changed round, 408 g of salt is no curing salt: both are asked for."""
    facts = weighed((2, 408.0, 408.0, None), (4, 68.0, 68.0, "bram"))
    recipe = facts.house.recipes["ham-cure"]
    water, salt, sugar, curing_salt = recipe.ingredients
    turned = replace(recipe, ingredients=(water, curing_salt, sugar, salt))
    found = scale(replace(facts, house=replace(facts.house, recipes={"ham-cure": turned})))
    assert [line.line for line in found.left] == [1, 2, 3, 4]
    assert found.minds == (
        "salt was weighed when the card asked for 408 g; the card has changed since",
        "curing salt was weighed when the card asked for 68 g; the card has changed since",
    )


@given(st.permutations([1, 2, 3, 4]), st.integers(0, 4))
def test_lines_weighed_and_left_are_all_lines(order: list[int], count: int) -> None:
    """In whatever order lines are weighed, each is either ticked or left, and none twice."""
    asked = {line.line: line.asked_g for line in scale(weighed()).lines}
    found = scale(weighed(*((n, asked[n], asked[n], "bram") for n in order[:count])))
    assert {line.line for line in found.left} == set(order[count:])
    assert all(line.grams == line.asked_g for line in found.lines if line.line in order[:count])


def test_a_house_that_weighs_in_ounces_reads_ounces() -> None:
    """Lines, ticks and the total are in the unit the house's scale is written in."""
    ounces = Scales(fine=((1e9, 0.5, "g"),), bench=((1e9, 28.349523125 / 4, "oz"),), jug=((1e9, 10.0, "mL"),))
    plain = weighed((2, 425.24, 411.07, None))
    found = scale(replace(plain, house=replace(plain.house, scales=ounces)))
    assert found.lines[1].amount == "14.5 oz"
    assert found.lines[1].says == "✓ 15 oz, 0.5 oz over, Wren"
    assert found.total == "1 of 4 weighed: 15 oz of 101.65 oz"
