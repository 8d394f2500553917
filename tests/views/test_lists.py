"""What to buy and what to pull out over some days, less what is done already."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import BoardError
from board.ledger.facts import WeighedFacts
from board.ledger.state import BatchStage
from board.views.facts import Done
from board.views.lists import FREEZER, WALK_IN, Lists, lists
from tests.app.house_fixture import DAY, at, step

from .cure_fixture import CURE, HAMS, SERVED, curing, standing, tuesday

NOON = at("12:00")


def grams(view: Lists) -> dict[str, float]:
    """The ingredients of a list."""
    return {one.name: round(one.grams, 1) for one in view.ingredients}


def test_a_batch_counts_on_the_day_it_is_made() -> None:
    """Tuesday's cure is on Saturday's list, by what the recipe comes to; water is not bought."""
    assert grams(lists(curing(NOON), DAY, DAY)) == {"brown sugar": 136.1, "curing salt": 68.0, "salt": 408.2}
    assert lists(curing(NOON), SERVED, SERVED).ingredients == ()


def test_what_is_weighed_or_made_is_not_bought_again() -> None:
    """A line on the scale, and then the whole batch, is off the list."""
    on_scale = WeighedFacts(SERVED, CURE, 2, "salt", 408.0, 408.0, "wren", NOON)
    assert "salt" not in grams(lists(curing(NOON, weighed={(SERVED, CURE): (on_scale,)}), DAY, DAY))
    made = curing(at("13:00"), batches=standing(BatchStage.MADE, at("13:00")))
    assert lists(made, DAY, DAY).ingredients == ()


def test_meat_counts_on_the_day_of_its_first_step() -> None:
    """The hams are injected on Saturday: Saturday's list has them, by pieces and raw mass."""
    meat = lists(curing(NOON), DAY, DAY).meat
    assert [(one.cut, one.pieces, one.mass_kg, one.days) for one in meat] == [
        ("ham-boneless", 6, 24.0, (SERVED,))
    ]
    begun = curing(at("19:00"), done={(SERVED, "t-inject"): Done(at("18:00"), "bram")})
    assert lists(begun, DAY, SERVED).meat == ()


def test_fuel_is_what_the_fires_of_the_span_burn() -> None:
    """Little burns 4 kg an hour from its lighting at 03:25 to the likely pull at 09:30: 24.3 kg."""
    fuel = lists(curing(NOON), SERVED, SERVED).fuel
    assert [(one.fuel, round(one.mass_kg, 1)) for one in fuel] == [("oak", 24.3)]
    assert lists(curing(NOON), DAY, DAY).fuel == ()


def test_meat_is_pulled_out_to_thaw_to_temper_and_for_its_first_step() -> None:
    """What thaws comes out of the freezer, what tempers or is begun with out of the walk-in, by time."""
    plan = tuesday()
    thaw = step("t-thaw", at("08:00"), "thaw", 5, "wren", HAMS)
    temper = step("t-temper", at("02:30", 3), "temper", 5, "ines", HAMS)
    facts = curing(at("07:00"), plans={SERVED: replace(plan, steps=(*plan.steps, thaw, temper))})
    pulls = lists(facts, DAY, SERVED).pulls
    assert [(one.at, one.what, one.place) for one in pulls] == [
        (at("08:00"), "thaw", FREEZER),
        (at("02:30", 3), "temper", WALK_IN),
    ]
    assert [one.what for one in lists(curing(NOON), DAY, SERVED).pulls] == ["inject"]


def test_a_span_that_ends_before_it_begins_is_refused() -> None:
    """The sentence says which days, and what is allowed."""
    with pytest.raises(BoardError, match="ends on 2026-12-19, before it begins on 2026-12-22"):
        lists(curing(NOON), SERVED, DAY)


@given(st.integers(0, 7))
def test_two_spans_side_by_side_list_what_one_does(days: int) -> None:
    """Splitting a span anywhere loses nothing and lists nothing twice."""
    facts, last = curing(NOON), DAY + timedelta(days=8)
    cut = DAY + timedelta(days=days)
    whole, one, two = (lists(facts, *span) for span in ((DAY, last), (DAY, cut), (cut + timedelta(1), last)))
    assert sum(x.grams for x in whole.ingredients) == pytest.approx(
        sum(x.grams for v in (one, two) for x in v.ingredients)
    )
    assert sorted(whole.pulls, key=str) == sorted((*one.pulls, *two.pulls), key=str)
    assert sum(x.pieces for x in whole.meat) == sum(x.pieces for v in (one, two) for x in v.meat)
