"""How good a plan is, in words."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from board.planning.plan import CostParts, Risk
from board.views.worth import chances, costs, near, nearness, surety, unsure
from tests.app.house_fixture import house, plan

AT = datetime(2026, 12, 19, 17, tzinfo=UTC)


@pytest.mark.parametrize(
    ("cost", "bound", "says"),
    [
        (100.0, 96.0, "within 4 % of the best possible"),
        (100.0, 95.9, "within 5 % of the best possible"),
        (100.0, 99.9, "within 1 % of the best possible"),
        (100.0, 100.0, "proved best"),
        (100.0, 0.0, "how far from the best possible is not known"),
        (0.0, 0.0, "proved best"),
    ],
)
def test_a_gap_is_rounded_up_and_one_that_is_not_known_is_said(cost, bound, says):
    """Rounded down it would promise more than was proved."""
    assert near(cost, bound) == says


def test_a_plan_without_loads_is_near_nothing():
    """Nothing is said of what is not there."""
    assert nearness(replace(plan(), loads=())) == ""
    assert surety(replace(plan(), loads=())) == ""


def test_a_service_below_its_chance_is_told_with_the_item_that_is_least_sure():
    """One in time 84 times in 100 where 92 are wanted, and one that is sure enough."""
    service = plan().occasions[0]
    item = next(iter(service.promises))
    weak = Risk(service.id, AT, 0.84, 0.92, 6.2, {item: 0.84, "other": 0.97})
    sure = Risk("order", AT, 0.999, 0.9, 0.1, {item: 0.999})
    told = replace(plan(), risks=(weak, sure))
    assert list(unsure(told)) == [f"{service.name}: in time 84 times in 100, 92 wanted"]
    first, second = chances(told, house())
    assert "only 84 times in 100, 92 wanted" in first
    assert "6 portions late" in first
    assert "all of it in time 99 times in 100" in second
    assert "late" not in second
    assert surety(told) == f"least sure {service.name}, 84 %"


def test_fuel_and_wages_are_money_and_what_the_house_does_not_weigh_is_points():
    """A hundredth of the house's money is a point."""
    told = replace(plan(), costs=CostParts(held=600.0, fuel=1250.0, tending=300.0))
    plain = replace(house(), weighing={})
    assert list(costs(told, plain)) == [
        "in money: fuel 12.50, watching fires 3.00",
        "in points, a hundred weighed like one in money: held too long 600",
    ]
    weighed = replace(house(), weighing={"held_hour": 0.4})
    assert list(costs(told, weighed)) == ["in money: held too long 6.00, fuel 12.50, watching fires 3.00"]
