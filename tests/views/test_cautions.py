"""Cautions where a step can hurt someone: few, the one that matters most first."""

from dataclasses import replace
from datetime import timedelta

import pytest

from board.house.library import library_cut
from board.house.model import Handling, Ingredient, Recipe, RecipeKind, StepRule, Work
from board.ledger.facts import WatchFacts
from board.ledger.state import LoadStage, WatchKind
from board.planning.plan import Cooked, CookedBy, PlannedBatch, PlannedStep
from board.sheets.plan_sheet import plan_sheet
from board.views.cautions import by_topic, caution_of, caution_of_check, cautions, topics_of
from board.views.load_page import load_page
from board.views.opening import opening
from board.views.reference import ref
from board.views.text import width_of
from tests.app.house_fixture import DAY, at, house, plan
from tests.views.facts_fixture import facts, standing, state

CURE = Recipe(
    "ham-cure",
    "ham cure",
    RecipeKind.CURE,
    (Ingredient("curing salt", 0.3, "kg", "cure", nitrite=0.0625),),
    0.12,
    Work(20.0),
    0.0,
    1440.0,
)
BY_REST = Cooked("injected", "a code", CookedBy.REST, 0.0, 0.97, 63.0, 3.0, 145.0, rest_minutes=12.0)


def step(what: str, load: str | None = None, *, when: str = "06:00", day: int = 0, **more) -> PlannedStep:
    """A step of Saturday's plan."""
    moment = at(when, day)
    return PlannedStep(
        f"{load}.{what}", moment, moment + timedelta(minutes=5), what, None, load, None, 5.0, **more
    )


def topics(what: str, load: str | None = None, of=None, **more) -> tuple[str, ...]:
    """What can hurt in that step."""
    return topics_of(of or house(), plan(), step(what, load, **more))


def with_cut(load: str, **changes):
    """The house with the load's cut changed."""
    base = house()
    cut = base.cuts[next(one.cut for one in plan().loads if one.id == load)]
    return replace(base, cuts={**base.cuts, cut.id: replace(cut, **changes)})


def test_lighting_a_fire_brings_fumes_first_then_fire_and_ash():
    """Carbon monoxide kills before a flame is seen."""
    assert topics("light", pit="alcove") == ("monoxide", "fire", "ash")


@pytest.mark.parametrize("what", ["wrap", "pull"])
def test_hot_fat_is_told_where_meat_comes_off_or_is_opened(what):
    """Gloves before the lid is up."""
    assert topics(what, "sat-brisket")[0] == "fat"


def test_a_cure_is_told_before_all_else_where_it_is_made_and_driven_in():
    """Nitrite by eye is the worst slip there is in this house."""
    batch = PlannedBatch("c", "ham-cure", "cure", 1.0, at("09:00"), at("10:00"), at("20:00"), ("sat-ham",))
    inject = StepRule("inject", Work(), (60.0, 600.0), recipe="ham-cure")
    base = with_cut("sat-ham", prep=(inject,), handling=Handling.INTACT_ROAST)
    of = replace(base, recipes={**base.recipes, "ham-cure": CURE})
    curing = replace(plan(), batches=(*plan().batches, batch))
    make = replace(step("make"), batch="c", load=None)
    assert topics_of(of, curing, make)[0] == "cure"
    assert topics("inject", "sat-ham", of, day=-3) == ("cure", "injected")


def test_raw_poultry_is_told_up_to_loading_and_no_longer():
    """What is cooked carries nothing over."""
    load = next(one for one in plan().loads if one.cut == "chicken-half")
    assert "poultry" in topics("rub", load.id, day=-1)
    assert "poultry" not in topics("pull", load.id, when="10:20")


def test_injected_meat_is_told_again_where_it_is_pulled():
    """The moment at which a roast's temperature would be too low."""
    of = with_cut("sat-brisket", handling=Handling.INJECTED)
    assert topics("pull", "sat-brisket", of) == ("injected", "fat")
    assert topics("pull", "sat-brisket") == ("fat",)


def test_serving_brings_the_probe():
    """Meat is probed before it is sliced."""
    assert topics("slice", "sat-brisket", when="10:45") == ("undercooked",)


def test_a_load_that_relies_on_its_rest_has_its_own_reading_at_the_pull_and_at_serving():
    """What the plan asks to be read takes the place of the general caution."""
    relying = replace(plan(), cooked={"sat-brisket": BY_REST})
    asks = "Before serving 12 briskets: the core must read 63 °C or more, and again 3 min later."
    for what, when in (("pull", "07:05"), ("slice", "10:45")):
        assert caution_of(house(), relying, step(what, "sat-brisket", when=when)).text == asks
    assert asks in cautions(replace(facts(), plans={DAY: relying}))
    early = caution_of(house(), relying, step("rub", "sat-brisket", day=-1))
    assert early is None or early.text != asks


def test_at_close_come_cooling_and_ash():
    """Leftovers and embers are what the closer is left with."""
    late = facts(max(occasion.until for occasion in plan().occasions))
    told = " ".join(cautions(late))
    assert "Cool from 57 °C" in told
    assert "Take ash out" in told


def test_each_step_says_one_thing_that_fits_a_small_screen():
    """The short form fits eighty columns."""
    for one in plan().steps:
        cell = caution_of(house(), plan(), one)
        if cell is not None and cell.short:
            assert width_of(cell.short) <= 78


def test_the_opening_says_with_each_step_what_to_mind():
    """The pull at hand brings hot fat."""
    pull = next(one for one in opening(facts()).next if one.says.startswith("pull"))
    assert "burn" in pull.mind.text


def test_the_loads_page_says_what_to_mind_at_its_next_step():
    """One line, near the top."""
    on = standing(state("sat-brisket", LoadStage.WRAPPED, on_at=at("19:12", -1)))
    page = load_page(facts(loads=on), ref(DAY, "sat-brisket"))
    assert page.facts[1].head == "mind"


def test_the_sheet_says_each_caution_once_with_the_steps_it_is_for():
    """A page for the wall has them below its steps."""
    page = plan_sheet(plan(), house())
    assert page.count("carbon monoxide") == 1
    assert "  light: Charcoal and wood" in page
    assert next(iter(by_topic(house(), plan()))) == "undercooked"


def test_a_plan_of_cuts_and_recipes_no_longer_known_has_cautions_still():
    """Nothing fails on a plan older than its house."""
    bare = replace(house(), cuts={}, recipes={})
    assert all(isinstance(topics_of(bare, plan(), one), tuple) for one in plan().steps)
    assert library_cut("brisket").id not in bare.cuts


def test_what_cools_or_is_heated_again_has_its_caution_at_its_readings():
    """The two hours stand by the pan that is to be read, the probe by what is reheated."""
    watches = tuple(
        WatchFacts(f"w{kind.name}", kind, "brisket ends", 1, at("05:00"), "ines")
        for kind in (WatchKind.COOLING, WatchKind.REHEATING, WatchKind.HOT_HOLD)
    )
    known = facts(watches=watches)
    cooling, hot_again, held = (caution_of_check(known, f"check:read:place:{one.id}") for one in watches)
    assert "2 h" in cooling.text
    assert "probe" in hot_again.text
    assert held is None
    assert caution_of_check(known, "check:left:2026-12-19/sat-ham") == cooling
