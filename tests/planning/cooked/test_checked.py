"""A plan tells of every load, and the independent check finds what it leaves untold or tells too well."""

from dataclasses import replace

import pytest

from board.house.model import Item
from board.planning.plan import CookedBy
from board.planning.plan_json import from_json, to_json
from board.planning.planner import plan_day
from tests.planning.checker import faults
from tests.planning.conftest import DAY
from tests.planning.cooked.loads import house_with, injected

LOIN = injected("pork-loin", 61.5)


@pytest.fixture(scope="module")
def house(two_fires):
    """The house with a needled loin at lunch, pulled under the least core of its rule."""
    with_loin = house_with(two_fires, LOIN)
    lunch = with_loin.services["lunch"]
    return replace(
        with_loin,
        items={**with_loin.items, "loin": Item("loin", "loin", LOIN.id, portion_kg=0.15, price=12.0)},
        services={**with_loin.services, "lunch": replace(lunch, promises={**lunch.promises, "loin": 20})},
    )


@pytest.fixture(scope="module")
def plan(house):
    """Its day."""
    return plan_day(house, DAY, seconds=0)


@pytest.fixture(scope="module")
def loin(plan):
    """The load in question."""
    return next(load for load in plan.loads if load.cut == LOIN.id)


def test_every_load_of_a_plan_is_told_of(plan, house, loin):
    """All loads have their verdict, and nothing is wrong with what they are told."""
    assert plan.cooked.keys() == {load.id for load in plan.loads}
    assert plan.cooked[loin.id].by is not CookedBy.PULL
    assert faults(plan, house) == []


def test_what_is_planned_again_is_judged_again(plan, house, loin):
    """Kept as committed, or begun, a load has the same verdict."""
    again = plan_day(house, DAY, seconds=0, committed=from_json(to_json(plan)))
    assert again.cooked[loin.id].by is plan.cooked[loin.id].by


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (lambda told: None, "is not told"),
        (lambda told: replace(told, by=CookedBy.PULL), "told as cooked at a pull"),
        (lambda told: replace(told, by=CookedBy.NOT_MET), "no caution says so"),
    ],
)
def test_a_load_told_too_well_or_not_at_all_is_found(plan, house, loin, told, words):
    """The check does its own sum from the pull and the printed rule."""
    others = {id: one for id, one in plan.cooked.items() if id != loin.id}
    found = told(plan.cooked[loin.id])
    quiet = tuple(caution for caution in plan.cautions if "not cooked safe" not in caution)
    wrong = replace(plan, cooked=others if found is None else {**others, loin.id: found}, cautions=quiet)
    assert any(words in fault for fault in faults(wrong, house))


def test_a_rest_that_cannot_get_so_hot_is_found(plan, house, loin):
    """A loin pulled at 40 °C is cooked by no rest."""
    cold = house_with(house, replace(LOIN, pull_core_c=40.0))
    told = replace(plan.cooked[loin.id], by=CookedBy.REST)
    cooler = replace(
        cold, holds={id: replace(h, setpoint_c=h.setpoint_c and 58.0) for id, h in cold.holds.items()}
    )
    wrong = replace(plan, cooked={**plan.cooked, loin.id: told})
    assert any("does not get so hot" in fault for fault in faults(wrong, cooler))
