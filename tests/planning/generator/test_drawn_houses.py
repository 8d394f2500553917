"""Drawn houses, roomy and tight, get plans without fault, whose cost is what they tell."""

import pytest

from board.planning.planner import plan_day
from tests.planning.checker import faults
from tests.planning.checker.costs import cost_faults
from tests.planning.generator import DAY, random_house


def test_the_same_seed_draws_the_same_house():
    """A house can be drawn again."""
    assert random_house("medium", 3) == random_house("medium", 3)
    assert random_house("medium", 3) != random_house("medium", 4)


@pytest.mark.parametrize("tightness", [1.0, 1.6])
@pytest.mark.parametrize(("size", "seed"), [("tiny", 1), ("tiny", 2), ("small", 1), ("small", 2)])
def test_a_drawn_house_gets_a_plan_without_fault(size, seed, tightness):
    """Nothing is wrong with the first plan, and its cost follows from it."""
    house = random_house(size, seed, tightness)
    plan = plan_day(house, DAY, seconds=0)
    unnamed = [fault for fault in faults(plan, house) if not fault.endswith("nobody does it")]
    assert [*unnamed, *cost_faults(plan, house)] == []
