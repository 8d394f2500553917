"""Reheating for hot holding: how hot, how long and how soon, each exactly on its limit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.safety.reheating import checkpoints, reheated
from board.safety.verdict import Answer
from tests.safety.records import fahrenheit, filled, holed, record, records

SHORT = 1 / 60  # a second, in minutes


def heated(at: float, c: float, seconds: float):
    """Food that leaves 5 °C at 0 min, is at a temperature from a minute on, and stays for so long."""
    ends = at + seconds / 60
    return record((0, 5), (10, 20), (at - 0.001, 50), (at, c), (ends, c), (ends + 0.001, 50), (ends + 30, 50))


@pytest.mark.parametrize(
    ("at", "c", "seconds", "expected"),
    [
        (120, 74, 15, Answer.PASS),
        (120, fahrenheit(165), 15, Answer.PASS),
        (120, 73.8, 15, Answer.FAIL),
        (120, 74, 14.9, Answer.FAIL),
        (120 + SHORT, 74, 15, Answer.FAIL),
        (30, 74, 15, Answer.PASS),
    ],
)
def test_exactly_on_each_limit(at: float, c: float, seconds: float, expected: Answer):
    """3-403.11: 74 °C (165 °F) for 15 s, within 2 h of passing 5 °C."""
    assert reheated(heated(at, c, seconds)).answer is expected


def test_food_from_an_inspected_plant():
    """57 °C (135 °F) at once, within the same 2 h."""
    assert reheated(heated(120, 57, 0.1), commercial=True).answer is Answer.PASS
    assert reheated(heated(120, 56.9, 60), commercial=True).answer is Answer.FAIL


def test_what_is_not_in_the_record():
    """Warm from the start, still cold at the end, ended too soon, a reading lost, none at all."""
    warm = reheated(record((0, 20), (30, 75), (40, 75)))
    assert (warm.answer, "begins when it is warm" in warm.why) == (Answer.NOT_SHOWN, True)
    assert reheated(record((0, 3), (30, 4))).why == "The record ends while it is still cold."
    short = reheated(record((0, 4), (60, 60)))
    assert (short.answer, "within 2 h" in short.settle) == (Answer.NOT_SHOWN, True)
    lost = record((0, 5), (60, 60), (90, None), (150, 60))
    assert reheated(lost).answer is Answer.NOT_SHOWN
    assert reheated(record()).answer is Answer.NOT_SHOWN


def test_a_lost_beginning_may_hide_the_start():
    """Food that was read cold after a lost reading may have left the cold before."""
    assert reheated(record((0, 3), (30, 4), (100, 75), (110, 75))).answer is Answer.PASS
    assert reheated(record((-60, None), (30, 4), (100, 75), (110, 75))).answer is Answer.NOT_SHOWN


def test_warm_food_that_is_not_hot_after_two_hours_has_failed():
    """Whenever it left the cold, it was before the record."""
    assert reheated(record((0, 20), (60, 50), (121, 60))).answer is Answer.FAIL


def test_the_checkpoint_for_the_board():
    """One, by minutes after passing 5 °C; here the temperature is the least."""
    (check,) = checkpoints()
    assert (check.after_minutes, check.most_c) == (120, None)
    assert check.least_c == pytest.approx(fahrenheit(165))


@given(st.data(), records())
def test_added_and_lost_readings(data, log):
    """Readings on the line change nothing; a lost one never makes a pass of what is not shown."""
    before = reheated(log).answer
    assert reheated(data.draw(filled(log))).answer is before
    if before is Answer.NOT_SHOWN:
        assert reheated(data.draw(holed(log))).answer is not Answer.PASS
