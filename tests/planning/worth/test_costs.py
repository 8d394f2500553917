"""What a plan costs, taken apart, and what the house weighs itself."""

from dataclasses import fields, replace

import pytest

from board.planning.costs import cost_parts
from board.planning.plan_json import from_json, to_json
from board.planning.problem import Assignment, points
from board.planning.search.insertion import insertion
from board.planning.weights import usual_weights, weights_of


def test_the_parts_sum_to_what_the_search_makes_least(planned):
    """`points` adds up part by part and run by run; the parts add up thing by thing."""
    problem, plan = planned
    assert cost_parts(problem, plan).total == pytest.approx(points(problem, plan), rel=1e-12)


def test_a_part_left_out_is_all_unserved(planned):
    """With nothing placed and nothing lit, portions are all there is to pay."""
    problem, _ = planned
    nothing = cost_parts(problem, Assignment({}, dict.fromkeys(problem.frame.pits, ())))
    worth = sum(part.worth for part in problem.parts)
    assert nothing.unserved == nothing.total == usual_weights().unserved_portion * worth


def test_fuel_and_tending_are_what_the_house_pays_for_them(planned):
    """kg an hour × price × hours lit, and wage × the share of a person × hours, to a point a slot."""
    problem, plan = planned
    house, costs = problem.frame.house, cost_parts(problem, plan)
    hours = {pit: sum(run.end - run.begin for run in runs) / 12 for pit, runs in plan.runs.items()}
    pits = house.pits
    fuel = sum(pits[p].fuel_kg_per_hour * pits[p].fuel_price_per_kg * h for p, h in hours.items())
    tending = sum(pits[p].tend_fraction * house.wage_per_hour * h for p, h in hours.items())
    rounding = 12 * sum(hours.values())  # a whole point a slot at the most
    assert costs.fuel == pytest.approx(100 * fuel, abs=rounding)
    assert costs.tending == pytest.approx(100 * tending, abs=rounding)
    assert costs.fuel > 0


def test_what_the_house_weighs_takes_the_place_of_the_usual():
    """One point is a hundredth of the house's money; what it leaves out stays usual."""
    own = weights_of({"lost_portion": 55.0, "held_hour": 0.6})
    assert own.unserved_portion == 5500
    assert own.hold_portion_minute == pytest.approx(1.0)
    kept = replace(own, unserved_portion=0, hold_portion_minute=0)
    assert kept == replace(usual_weights(), unserved_portion=0, hold_portion_minute=0)


def test_every_key_a_house_may_weigh_is_a_weight():
    """The house files' list and the planner's agree."""
    from board.house.files import WEIGHED  # noqa: PLC0415

    for key in WEIGHED:
        assert weights_of({key: 12345.0}) != usual_weights()


def test_a_dearer_fire_is_paid_in_the_sum(planned):
    """Lighting at twice the money doubles what fires cost a plan without change-overs."""
    problem, _ = planned
    plan = insertion(problem)
    lit = sum(not run.chained for runs in plan.runs.values() for run in runs)
    dear = replace(problem, frame=replace(problem.frame, weights=weights_of({"lighting": 6.0})))
    more = cost_parts(dear, plan).fires - cost_parts(problem, plan).fires
    assert more == pytest.approx(lit * (600 - usual_weights().lighting))


def test_costs_and_chances_come_back_from_the_document(plain_plan):
    """What `board plan --json` prints is read back to the cent."""
    again = from_json(to_json(plain_plan))
    for f in fields(plain_plan.costs):
        assert getattr(again.costs, f.name) == pytest.approx(getattr(plain_plan.costs, f.name), abs=0.005)
    assert [risk.service for risk in again.risks] == [risk.service for risk in plain_plan.risks]
    assert plain_plan.risks
    assert plain_plan.costs.total == pytest.approx(plain_plan.cost, abs=0.01)
