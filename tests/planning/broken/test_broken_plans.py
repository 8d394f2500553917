"""Each of many kinds of broken plan is found, in words that name the fault; what is told of cost too."""

from dataclasses import replace

import pytest

from tests.planning.broken.faults_planted import PLANTED
from tests.planning.checker import faults
from tests.planning.checker.costs import cost_faults


def test_the_plan_that_is_broken_here_is_good(plain_plan, two_fires):
    """Before anything is planted nothing is found."""
    assert [*faults(plain_plan, two_fires), *cost_faults(plain_plan, two_fires)] == []


@pytest.mark.parametrize("kind", PLANTED)
def test_a_planted_fault_is_found(plain_plan, two_fires, kind):
    """The fault found says what was planted."""
    plant, words = PLANTED[kind]
    assert any(words in fault for fault in faults(plant(plain_plan), two_fires))


@pytest.mark.parametrize(
    ("part", "words"),
    [("fuel", "fires burn"), ("fires", "lighting costs"), ("work", "hands at the pits")],
)
def test_a_false_part_of_the_cost_is_found(plain_plan, two_fires, part, words):
    """A part of the cost told too low is found from the fires and hands of the plan itself."""
    told = replace(plain_plan.costs, **{part: getattr(plain_plan.costs, part) / 2})
    found = list(cost_faults(replace(plain_plan, costs=told), two_fires))
    assert any(words in fault for fault in found)
    assert any("do not sum" in fault for fault in found)
