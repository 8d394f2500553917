"""A leg pumped, rubbed and glazed as common practice has it: what it leaves, and how it is cooked.

Common practice, no source: 1 L of water with 100 g of salt and 100 g of sugar; about 750 ml of it into 10 kg;
two days in the cooler; a rub by parts of salt ½, paprika 1, onion 1, garlic ¼; a glaze of equal masses of
butter, sugar and honey, made in the twenty minutes of rest. The sums beside each check are by hand.
"""

import json
from datetime import date, timedelta

import pytest

from board.cli import run
from board.house.files import read_house
from board.house.seeds import seed_house
from board.planning.cooked.words import said
from board.planning.plan import CookedBy
from board.planning.planner import plan_day
from tests.planning.checker import faults

DAY = date(2026, 12, 23)


@pytest.fixture(scope="module")
def house():
    """The demo house, which pumps a leg to order."""
    return read_house(seed_house("tallow_row"))


@pytest.fixture(scope="module")
def plan(house):
    """The day on which it is collected."""
    return plan_day(house, DAY, seconds=0)


@pytest.fixture(scope="module")
def leg(plan):
    """The leg's load."""
    return next(load for load in plan.loads if load.cut == "fresh-leg")


@pytest.fixture
def told(capsys):
    """A function that asks `board batch` for 10 kg of leg and reads its document."""

    def ask(recipe: str, *more: str):
        assert run(["batch", recipe, "--for", "10 kg", "--cut", "fresh-leg", "--json", *more]) == 0
        return json.loads(capsys.readouterr().out)

    return ask


def test_the_brine_is_one_litre_with_a_hundred_grams_of_each(told):
    """100 g in 1.2 kg is 8.33 % of salt and as much sugar."""
    found = told("leg-brine")
    grams = {line["name"]: line["grams"] for line in found["ingredients"]}
    assert grams["salt"] / grams["water"] == pytest.approx(0.1, rel=0.003)  # a litre of water weighs 0.998 kg
    assert found["brine"]["salt_percent"] == pytest.approx(100 / 12, abs=0.02)
    assert found["brine"]["sugar_percent"] == pytest.approx(100 / 12, abs=0.02)


def test_about_750_ml_of_it_goes_into_ten_kilograms_and_leaves_so_much_salt(told):
    """0.82 kg of brine at 8.33 % is 68 g of salt in 10.82 kg of meat: 0.63 %."""
    meat = told("leg-brine")["meat"]
    assert meat["method"] == "pumped"
    assert meat["ml_a_piece"] == pytest.approx(750, abs=15)  # its usual piece is 22 lb, 9.98 kg
    assert meat["salt_percent"] == pytest.approx(100 * 10 * 0.082 / 12 / 10.82, abs=0.01)


def test_without_nitrite_it_is_said_to_be_fresh_meat(told):
    """No limit applies, and no one may call it a ham."""
    meat = told("leg-brine")["meat"]
    assert meat["nitrite_ppm"] == 0.0
    assert meat["verdict"] == "without nitrite this is seasoned fresh meat, not a cured product"


def test_two_days_in_the_cooler_do_not_quite_even_it_out(told):
    """Nine tenths between needle holes 25 mm apart takes longer than common practice's 48 h."""
    assert told("leg-brine")["spread"]["hours_to_90_percent"] > 48


def test_the_rub_brings_less_salt_than_the_brine(told):
    """Half a part in two and three quarters; with the brine about 1 % in all."""
    rub = told("leg-rub")
    assert rub["meat"]["salt_percent"] < told("leg-brine")["meat"]["salt_percent"]
    assert 0.9 < rub["together"]["salt_percent"] < 1.2


def test_the_glaze_is_equal_masses_and_made_in_the_rest(told, plan, house, leg):
    """Thirds of it; its making ends before the leg is glazed and begins after it is on."""
    grams = [line["grams"] for line in told("leg-glaze")["ingredients"]]
    assert grams == pytest.approx([sum(grams) / 3] * 3)
    assert house.recipes["leg-glaze"].make_work.fixed_minutes == 20
    assert house.cuts["fresh-leg"].rest_minutes[0] == 20
    assert any(batch.recipe == "leg-glaze" and leg.id in batch.loads for batch in plan.batches)


def test_it_is_pumped_two_days_before_and_kept_cold(plan, house, leg):
    """The plan counts back from the order over rest, cook, rub and two days."""
    steps = {step.what: step for step in plan.steps if step.load == leg.id}
    assert steps["rub"].at - steps["inject"].ends_at >= timedelta(days=2)
    assert all(rule.chilled for rule in house.cuts["fresh-leg"].prep)


def test_the_plan_says_before_anyone_cooks_it_that_it_relies_on_its_rest(plan, house, leg):
    """Pulled at 145 °F, the 3 min at 145 °F or hotter that injected meat needs come after the pull."""
    cooked = plan.cooked[leg.id]
    assert (cooked.rule, cooked.by) == ("injected", CookedBy.REST)
    assert cooked.rest_minutes <= house.cuts["fresh-leg"].rest_minutes[0]
    assert said(house, leg, cooked).startswith(
        "Relies on its rest: pulled at 145 °F, and injected meat is cooked after 3 min at 145 °F or more."
    )
    assert faults(plan, house) == []


def test_the_same_leg_left_whole_would_be_judged_otherwise(told):
    """It is told as injected wherever it is scaled."""
    assert told("leg-brine")["cooked_as"] == "injected"
    assert any("cook it as injected meat" in says for says in told("leg-brine")["warnings"])
