"""Hot and cold holding: each limit exactly, long silences, and one reading."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.safety.holding import held_cold, held_hot
from board.safety.verdict import Answer
from tests.safety.records import fahrenheit, filled, holed, record, record_f, records


@pytest.mark.parametrize(
    ("c", "charted", "place", "holds"),
    [
        (57, False, "us", True),
        (fahrenheit(135), False, "us", True),
        (56.99, False, "us", False),
        (54, True, "us", True),
        (fahrenheit(130), True, "us", True),
        (53.99, True, "us", False),
        (63, False, "uk", True),
        (62.99, False, "uk", False),
        (62.99, True, "uk", False),
        (57, False, "eu", True),
    ],
)
def test_hot_exactly_on_the_limit(c: float, charted: bool, place: str, holds: bool):
    """3-501.16: 57 °C, 54 °C for charted roasts; the United Kingdom 63 °C for all."""
    for log in (record((0, c)), record((0, c), (120, c))):
        assert (held_hot(log, charted_roast=charted, place=place).answer is Answer.PASS) is holds


@pytest.mark.parametrize(
    ("c", "place", "holds"),
    [
        (5, "us", True),
        (fahrenheit(41), "us", True),
        (5.01, "us", False),
        (8, "uk", True),
        (8.01, "uk", False),
    ],
)
def test_cold_exactly_on_the_limit(c: float, place: str, holds: bool):
    """3-501.16: 5 °C; the United Kingdom 8 °C."""
    for log in (record((0, c)), record((0, c), (120, c))):
        assert (held_cold(log, place=place).answer is Answer.PASS) is holds


def test_a_record_in_fahrenheit_is_held_to_fahrenheit():
    """134.9 °F is 57.2 °C and over the printed 57, but under the printed 135 °F."""
    assert held_hot(record_f((0, 135), (60, 135))).answer is Answer.PASS
    assert held_hot(record_f((0, 135), (60, 134.9))).answer is Answer.FAIL
    assert held_cold(record_f((0, 41), (60, 41))).answer is Answer.PASS
    assert held_cold(record_f((0, 41), (60, 41.1))).answer is Answer.FAIL


def test_one_reading_out_is_a_failure_and_says_what_to_do():
    """How many are out, the worst of them, how long, and reheat or throw away."""
    verdict = held_hot(record((0, 60), (60, 56), (120, 58)))
    assert verdict.answer is Answer.FAIL
    assert "1 of 3 readings is below 57 °C (135 °F); the worst is 56 °C" in verdict.why
    assert "for 45 min on end" in verdict.why
    assert "Reheat it at once to 74 °C" in verdict.cautions[0]
    assert "Chill it at once" in held_cold(record((0, 4), (60, 6))).cautions[0]


def test_a_silence_is_not_a_hold():
    """Readings over 4 h apart, or one lost, do not show the food held; nor does no reading."""
    assert held_hot(record((0, 60), (240, 60))).answer is Answer.PASS
    silent = held_hot(record((0, 60), (241, 60)))
    assert (silent.answer, silent.settle) == (Answer.NOT_SHOWN, "readings no further apart than 4 h")
    assert held_cold(record((0, 3), (60, None), (120, 3))).answer is Answer.NOT_SHOWN
    assert held_cold(record()).answer is Answer.NOT_SHOWN


def test_one_reading_shows_its_own_moment():
    """A check is one reading."""
    assert held_hot(record((0, 60))).why == "The one reading is at or above 57 °C (135 °F)."


@given(st.data(), records(low=50, high=65), st.booleans())
def test_added_and_lost_readings(data, log, charted):
    """Readings on the line change nothing; a lost one never makes a pass of what is not shown."""
    before = held_hot(log, charted_roast=charted).answer
    assert held_hot(data.draw(filled(log)), charted_roast=charted).answer is before
    if before is Answer.NOT_SHOWN:
        assert held_hot(data.draw(holed(log)), charted_roast=charted).answer is not Answer.PASS
