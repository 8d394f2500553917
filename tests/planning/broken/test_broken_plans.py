"""Each of many kinds of broken plan is found, in words that name the fault; what is told of cost too."""

from dataclasses import replace

import pytest

from board.planning.unstaffed import nobody_for
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


def _pits(house, **change):
    return replace(house, pits={key: replace(pit, **change) for key, pit in house.pits.items()})


def _holds(house, celsius):
    kept = {k: replace(v, setpoint_c=v.setpoint_c and celsius) for k, v in house.holds.items()}
    return replace(house, holds=kept)


OTHER_HOUSES = {
    "fires that take all of somebody": (lambda h: _pits(h, tend_fraction=1.0), "attention is asked"),
    "no night hand": (lambda h: replace(h, shifts=h.shifts[1:]), "nobody is there to pull it"),
    "a walk-in for one chicken": (lambda h: replace(h, walk_in_kg=1.0), "the walk-in holds"),
    "a pit out of use all day": (lambda h: _pits(h, takes=frozenset({"sausage"})), "does not take"),
    "a cabinet gone cold": (lambda h: _holds(h, 50.0), "held too cool"),
}


@pytest.mark.parametrize("kind", OTHER_HOUSES)
def test_a_plan_for_another_house_is_found(plain_plan, two_fires, kind):
    """A good plan is a broken one where the house has not what it asks for."""
    other, words = OTHER_HOUSES[kind]
    assert any(words in fault for fault in faults(plain_plan, other(two_fires)))


def test_a_walk_in_told_as_less_over_full_than_it_is_is_found(plain_plan, two_fires):
    """With a walk-in for 1 kg far more than 1 kg is over."""
    told = replace(
        plain_plan, cautions=("The walk-in is 1 kg over full: some of it must be kept cold elsewhere.",)
    )
    found = faults(told, replace(two_fires, walk_in_kg=1.0))
    assert any("only 1.0 kg are told" in fault for fault in found)


def test_a_step_nobody_does_is_told_by_the_plan_that_has_it(plain_plan, two_fires):
    """A sentence about it takes the silence away, not the fault of nobody doing it."""
    broken = replace(
        plain_plan, steps=tuple(replace(s, who=None) if s.what == "light" else s for s in plain_plan.steps)
    )
    told = replace(broken, cautions=nobody_for(two_fires, broken.loads, broken.steps, broken.batches))
    assert any("nothing is said" in fault for fault in faults(broken, two_fires))
    assert not any("nothing is said" in fault for fault in faults(told, two_fires))
    assert any("nobody does it" in fault for fault in faults(told, two_fires))


@pytest.mark.parametrize(
    ("part", "points", "words"),
    [
        ("late", 90_000.0, "lateness costs"),
        ("held", 90_000.0, "holding costs"),
        ("unserved", 5_000.0, "lacking"),
    ],
)
def test_a_part_of_the_cost_that_is_made_up_is_found(plain_plan, two_fires, part, points, words):
    """Lateness, holding and missing portions that the loads do not show."""
    told = replace(plain_plan.costs, **{part: points})
    assert any(words in fault for fault in cost_faults(replace(plain_plan, costs=told), two_fires))


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
