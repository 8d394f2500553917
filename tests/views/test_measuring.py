"""What may have its temperature taken, in which order it is offered, and what digits typed of it mean."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.house.degrees import to_celsius
from board.ledger.state import LoadStage
from board.views.facts import Facts
from board.views.measuring import Place, places, whole_figure
from tests.app.house_fixture import at
from tests.views.facts_fixture import facts, standing, state


def test_what_cooks_comes_first_and_what_was_served_is_gone() -> None:
    """The loads on the pits stand on top; what came off is offered while something of it is left."""
    off = state("sat-brisket", LoadStage.PULLED, on_at=at("19:12", -1), pulled_at=at("09:00"))
    on = state("sat-ham", LoadStage.ON, on_at=at("05:30"), last_core_c=30.0)
    now = facts(now=at("09:30"), loads=standing(off, on))
    names = [choice.name for choice in places(now)]
    assert names[:3] == ["4 hams, Little", "12 briskets, off 09:00", "North, the pit"]
    later = [choice.name for choice in places(replace(now, now=at("23:50")))]
    assert later[:2] == ["4 hams, Little", "12 briskets, off 09:00"]
    gone = replace(now, now=at("23:50"), loads=standing(replace(off, portions_left=0), on))  # type: ignore[type-var]
    assert [choice.name for choice in places(gone)][:2] == ["4 hams, Little", "North, the pit"]


def _pounds() -> Facts:
    """The fixture's facts in a house that reads °F."""
    told = facts()
    return replace(told, house=replace(told.house, display=replace(told.house.display, temperature="degF")))


def _core(last_f: float | None) -> Place:
    return Place("load:x", "a load", "", None if last_f is None else to_celsius(last_f), is_core=True)


@pytest.mark.parametrize(
    ("last_f", "typed", "meant"),
    [
        (149, "57", "157"),
        (149, "48", "148"),
        (201, "03", "203"),
        (197, "99", "199"),
        (149, "057", "057"),
        (149, "157", "157"),
        (149, "5", "5"),
        (41, "52", "52"),
        (95, "12", "112"),
        (95, "60", "60"),
        (203, "30", "30"),
        (None, "57", "57"),
    ],
)
def test_two_digits_of_a_core_are_made_whole_by_its_last(
    last_f: float | None, typed: str, meant: str
) -> None:
    """57 after 149° is 157; digits that may stand by themselves, or that no hundred mends, stay."""
    assert whole_figure(_pounds(), _core(last_f), typed) == meant


@given(st.floats(32, 212), st.text("0123456789. F", max_size=4))
def test_a_figure_made_whole_ends_in_the_digits_typed_and_is_near_or_above_the_last(
    last_f: float, typed: str
) -> None:
    """Nothing typed is turned into anything but the same digits with a hundred or two before them."""
    meant = whole_figure(_pounds(), _core(last_f), typed)
    if meant != typed:
        assert meant.endswith(typed)
        assert last_f - 40 < int(meant) <= 218
        assert int(typed) <= last_f - 39


@pytest.mark.parametrize("typed", ["57", "03", "99"])
def test_digits_of_pits_and_of_houses_in_celsius_mean_what_they_say(typed: str) -> None:
    """Only a core in °F is made whole."""
    assert whole_figure(_pounds(), replace(_core(149), is_core=False), typed) == typed
    assert whole_figure(facts(), _core(149), typed) == typed
