"""Degrees beside a limit: never the limit's own digits for a reading that misses it."""

from hypothesis import given
from hypothesis import strategies as st

from board.house.model import Handling
from board.safety.cooked import cooked
from board.safety.holding import held_hot
from board.safety.tempering import tempered
from board.safety.wording import degrees, degrees_off
from tests.safety.records import plateau, record


def test_a_hair_under_a_limit_is_not_told_as_the_limit():
    """62.77 °C is not 145 °F, 69.99 °C is not 70 °C at once, and 56.99 °C is not the 57 of a hold."""
    assert "hottest reading is 62.77 °C (144.99 °F)" in cooked(plateau(62.77, 60), Handling.INTACT_CUT).why
    assert "ends at 69.99 °C (157.98 °F)" in cooked(record((0, 69.99)), Handling.INJECTED).why
    assert "the worst is 56.99 °C (134.58 °F)" in held_hot(record((0, 57), (60, 56.99))).why


def test_what_is_well_off_is_told_to_a_tenth():
    """No more digits than a probe has."""
    assert degrees_off(60.0, 63.0) == degrees(60.0) == "60 °C (140 °F)"


@given(st.floats(-20, 110), st.floats(0.002, 5))
def test_a_reading_beside_its_limit_differs_from_it(limit_c: float, off_k: float):
    """In both scales, whatever the limit."""
    told = degrees_off(limit_c - off_k, limit_c)
    assert told.split(" °C")[0] != degrees_off(limit_c, limit_c - off_k).split(" °C")[0]


def test_what_would_settle_food_that_got_hot_late_is_how_cool_it_was_before():
    """Out for over 4 h before it was hot: only that it was at 21 °C or less until then helps it."""
    settle = tempered(record((0, 4), (60, 10), (200, 20), (300, 60), (310, 70))).settle
    assert settle == "readings that show it at or below 21 °C (70 °F) until it went on the fire"
