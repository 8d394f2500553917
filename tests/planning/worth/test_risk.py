"""The chance of whole services, on a plan of the house written by hand."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from board.planning.factors import usual_factors
from board.planning.plan import Risk
from board.planning.risk import chance_by, load_quantiles, risks

# three standard errors of a chance of 0.9 from 8,192 draws: 3 √(0.9·0.1/8192)
SIMULATED = 0.01
ALONE = replace(usual_factors(), house=0.0, night=0.0, kind=0.0, pit=0.0, cut=0.0, load=1.0)


def of_service(problem, plan, service):
    """The placed parts of a service."""
    return [part for part in problem.parts if part.id in plan.placed and service in part.services]


def test_a_service_of_loads_that_share_nothing_has_the_product_of_their_chances(planned):
    """Each load's own chance is read off its cook time, so nothing else may enter."""
    problem, plan = planned
    for risk in risks(problem, plan, ALONE):
        product = 1.0
        for part in of_service(problem, plan, risk.service):
            due = next(due for due in part.share.serves if due.occasion.id == risk.service)
            product *= chance_by(problem, part, plan.placed[part.id], due.at)
        assert risk.chance == pytest.approx(product, abs=SIMULATED)


def test_expected_late_portions_are_portions_by_their_chance_to_be_late(planned):
    """An expectation adds up whatever is shared."""
    problem, plan = planned
    for risk in risks(problem, plan):
        expected = sum(
            due.portions * (1.0 - chance_by(problem, part, plan.placed[part.id], due.at))
            for part in of_service(problem, plan, risk.service)
            for due in part.share.serves
            if due.occasion.id == risk.service
        )
        portions = sum(part.due for part in of_service(problem, plan, risk.service))
        assert risk.late_portions == pytest.approx(expected, abs=SIMULATED * portions)


def test_a_service_is_no_surer_than_its_least_sure_item(planned):
    """All of a service is a part of all of each of its items."""
    problem, plan = planned
    for risk in risks(problem, plan):
        assert risk.chance <= min(risk.items.values())


def test_each_load_must_be_surer_the_more_loads_a_service_has(planned):
    """One load needs its service's chance; with another beside it, more."""
    problem, _ = planned
    shares = [part.share for part in problem.parts]
    pits = list(problem.frame.house.pits.values())
    first = shares[0].first.occasion.id
    one, two = load_quantiles(shares[:1], pits)[first], load_quantiles([shares[0]] * 2, pits)[first]
    assert one == shares[0].need.chance
    assert one < two < 1.0


def test_the_problem_asks_each_part_for_what_its_service_needs(planned):
    """What is asked of a part is what its occasions need of each load, the highest of them."""
    problem, _ = planned
    asked = load_quantiles([part.share for part in problem.parts], problem.frame.house.pits.values())
    for part in problem.parts:
        assert part.quantile == max(asked[due.occasion.id] for due in part.share.serves)


def test_a_service_short_of_its_chance_says_so_beyond_what_the_simulation_leaves_open():
    """Half a hundredth is noise; more is told."""
    near = Risk("lunch", datetime(2026, 6, 10, tzinfo=UTC), 0.897, 0.9, 1.0)
    assert not near.unsure
    assert replace(near, chance=0.88).unsure
