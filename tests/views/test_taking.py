"""Which step takes how much of which batch: a lot traced to its loads, and back."""

from dataclasses import replace

import pytest

from board.ledger.state import BatchStage, Took
from board.planning.plan import Draw, Plan
from board.views.facts import Facts
from board.views.taking import meats_for, took
from tests.app.house_fixture import at, step

from .cure_fixture import CURE, HAMS, SERVED, curing, standing, tuesday


def injected(facts: Facts, plan: Plan) -> tuple[Took, ...]:
    """What the injection of the hams takes."""
    return took(facts, plan, next(one for one in plan.steps if one.id == "t-inject"))


def made(*plans: Plan) -> Facts:
    """The cure made at 13:00, with these plans in force."""
    known = {plan.day: plan for plan in plans}
    return curing(at("18:00"), batches=standing(BatchStage.MADE, at("13:00")), plans=known)


def test_a_step_takes_its_loads_part_of_the_batch() -> None:
    """One load that a batch is for takes all of it when it is injected."""
    assert injected(made(tuesday()), tuesday()) == (Took(CURE, SERVED, pytest.approx(2.88)),)


def test_two_loads_share_a_batch_by_mass() -> None:
    """Where the plan does not tell, each load takes by its mass, and together all there is."""
    more = replace(tuesday().loads[0], id="tue-ham-2", pieces=2, mass_kg=8.0)
    plan = replace(
        tuesday(),
        loads=(*tuesday().loads, more),
        batches=(replace(tuesday().batches[0], loads=(HAMS, more.id)),),
        steps=(*tuesday().steps, step("t-inject-2", at("18:30"), "inject", 15, "bram", more.id)),
    )
    first, second = (took(made(plan), plan, one)[0].kg for one in plan.steps if one.what == "inject")
    assert (first, second) == (pytest.approx(2.16), pytest.approx(0.72))


def test_what_the_plan_tells_goes_before() -> None:
    """A batch that holds 2 kg for a load gives 2 kg, and is enough for so much of its meat."""
    batch = replace(tuesday().batches[0], amount_kg=2.0, each_kg=(2.0,))
    plan = replace(tuesday(), batches=(batch,))
    assert injected(made(plan), plan)[0].kg == 2.0
    meat = meats_for(made(plan), plan, batch)[0]
    assert meat.meat_kg == pytest.approx(2.0 / 0.12)
    assert meat.pieces == pytest.approx(6 * 2.0 / 2.88)


def test_a_load_of_another_day_draws_on_what_is_left() -> None:
    """A load that takes what others left of a batch is traced to it across days."""
    draw = Draw(CURE, "ham-cure", HAMS, 0.7, at("17:00"), at("13:00", 1))
    without = replace(tuesday(), day=SERVED.replace(day=23), batches=(), draws=(draw,))
    others = replace(tuesday(), loads=(), steps=())
    assert injected(made(others, without), without) == (Took(CURE, SERVED, 0.7),)


def test_nothing_is_taken_of_what_is_not_made_or_is_gone() -> None:
    """A batch due or discarded gives nothing; nor does one that the step does not use."""
    assert injected(curing(at("18:00")), tuesday()) == ()
    gone = curing(at("18:00"), batches=standing(BatchStage.DISCARDED, at("13:00")))
    assert injected(gone, tuesday()) == ()
    loading = next(one for one in tuesday().steps if one.id == "t-load")
    assert took(made(tuesday()), tuesday(), loading) == ()
