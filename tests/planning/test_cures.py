"""A plan with a cure over its limit is not committed."""

import json
from dataclasses import replace
from datetime import date
from types import SimpleNamespace

import pytest

from board.app import acting
from board.app.keymap import Keymap
from board.errors import LedgerError
from board.house.files import read_house
from board.house.model import House
from board.house.seeds import seed_house
from board.planning.cures import cures_over
from board.planning.plan import Plan
from board.planning.plan_json import from_json
from board.planning.planner import plan_day


@pytest.fixture(scope="module")
def house() -> House:
    """The demo house."""
    return read_house(seed_house("tallow_row"))


@pytest.fixture(scope="module")
def plan() -> Plan:
    """A day of the demo with cured hams in it."""
    path = seed_house("tallow_row") / "plan-2026-12-19.json"
    found = from_json(json.loads(path.read_text()))
    assert any(batch.recipe == "ham-cure" for batch in found.batches)
    return found


def doubled(house: House) -> House:
    """The house with twice the blend in its ham cure."""
    cure = house.recipes["ham-cure"]
    lines = tuple(replace(i, amount=2 * i.amount) if i.role == "cure" else i for i in cure.ingredients)
    return replace(house, recipes={**house.recipes, "ham-cure": replace(cure, ingredients=lines)})


def test_the_demo_plan_may_be_committed(house: House, plan: Plan):
    """Within the limits nothing is said."""
    assert cures_over(house, plan) == ()


def test_twice_the_cure_names_its_batch(house: House, plan: Plan):
    """Each batch over its limit is told once, by its name and id."""
    said = cures_over(doubled(house), plan)
    assert said
    assert all("ham cure (" in each and "over the limit of 200 ppm" in each for each in said)


def test_committing_it_is_refused(house: House, plan: Plan):
    """The act of committing ends in the sentence, before anything is written."""
    session = SimpleNamespace(house=doubled(house), facts=lambda: SimpleNamespace(batches={}))
    with pytest.raises(LedgerError, match=r"not committed: ham cure .* is within it"):
        acting.commit(session, plan, "", Keymap().key)


def test_what_is_made_already_is_not_refused_again(house: House, plan: Plan):
    """With the ham in its cure the rest of the day can still be planned anew; the plan goes on telling it."""
    over = doubled(house)
    made = {batch.id for batch in plan.batches if batch.recipe == "ham-cure"}
    assert cures_over(over, plan, made) == ()
    assert len(cures_over(over, plan, set())) == len(made)


def test_the_plan_itself_says_so_first(house: House):
    """Whoever plans reads it before anyone commits: it leads what the crew must see to."""
    over = doubled(house)
    found = plan_day(over, date(2026, 12, 19), seconds=0)
    assert "ham cure (" in found.cautions[0]
    assert "over the limit of 200 ppm" in found.cautions[0]
