"""The steps that cool a batch: done by themselves, and said with what a reading must show."""

from dataclasses import replace

import pytest

from board.ledger.state import BatchStage
from board.views.facts import Done
from board.views.steps import is_done, say, say_shortly
from tests.app.house_fixture import at, step

from .cure_fixture import CURE, curing, standing, tuesday

MAKE = replace(step("cool-make", at("12:30"), "make", 30, "bram"), batch=CURE)
CHILL = replace(step("cool-chill", at("13:10"), "chill", 5, "bram"), batch=CURE)
CHECK = replace(step("cool-check", at("14:00"), "check", 2, "bram"), batch=CURE, most_c=4.0)


def at_stage(stage, **more):
    """The cure at a stage, with its making and cooling in Tuesday's plan."""
    plan = replace(tuesday(), steps=(*tuesday().steps, MAKE, CHILL, CHECK))
    facts = curing(at("18:00"), batches=standing(stage, at("13:00")), plans={plan.day: plan})
    return replace(facts, **more), plan


@pytest.mark.parametrize(
    ("stage", "made", "cold"),
    [
        (BatchStage.DUE, False, False),
        (BatchStage.MADE, True, False),
        (BatchStage.READY, True, True),
        (BatchStage.DISCARDED, True, True),
    ],
)
def test_making_a_batch_does_not_cool_it(stage, made, cold):
    """Once made it is still to be cooled and read; once ready or thrown away nothing is left to do."""
    facts, plan = at_stage(stage)
    assert [is_done(facts, plan, one) for one in (MAKE, CHILL, CHECK)] == [made, cold, cold]


def test_a_reading_that_was_marked_is_done():
    """Each step of cooling is marked by itself."""
    day = tuesday().day
    facts, plan = at_stage(BatchStage.MADE, done={(day, CHECK.id): Done(at("14:02"), "bram")})
    assert [is_done(facts, plan, one) for one in (CHILL, CHECK)] == [False, True]


def test_a_reading_says_what_it_must_show():
    """The temperature stands in the words, in the house's degrees; setting it to cool has none."""
    facts, plan = at_stage(BatchStage.MADE)
    assert say_shortly(facts, plan, CHECK).startswith("check ")
    for words in (say(facts, plan, CHECK), say_shortly(facts, plan, CHECK)):
        assert "is at most" in words
    assert "at most" not in say(facts, plan, CHILL)
