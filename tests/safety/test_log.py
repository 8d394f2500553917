"""How a record is read: straight lines between near readings, bounds where there is none."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import BoardError
from board.safety.log import TemperatureLog, held, total, trusted_minutes, until
from tests.safety.records import colder, filled, holed, record, records

TRUSTED = trusted_minutes("cooking")


def shown(log: TemperatureLog, c: float):
    """What the record shows of the longest time at or above a temperature."""
    return held(tuple(log.stretches(TRUSTED)), c)


def test_the_straight_line_between_readings():
    """From 50 to 70 °C in 20 minutes, and back in 10: 60 °C is passed half way each time, 15 min above."""
    log = record((0, 50), (20, 70), (30, 50))
    assert shown(log, 60).least_s == pytest.approx(15 * 60, abs=0.01)
    assert shown(log, 50).least_s == pytest.approx(30 * 60, abs=0.01)
    assert shown(log, 70.1) == (0, 0)


def test_exactly_at_a_temperature_counts_as_at_it():
    """A plateau on the limit is at or above it; one a hundredth below is not."""
    assert shown(record((0, 60), (10, 60)), 60) == (600, 600)
    assert shown(record((0, 59.99), (10, 59.99)), 60) == (0, 0)


def test_a_break_starts_the_time_anew():
    """Ten minutes, a dip, and eight minutes are not eighteen."""
    log = record((0, 61), (10, 61), (11, 50), (12, 61), (20, 61))
    assert 600 < shown(log, 60).least_s < 620
    assert total(tuple(log.stretches(TRUSTED)), 60).least_s == pytest.approx(1080 + 2 * 60 / 11, abs=1)


def test_a_lost_reading_and_a_long_stretch_say_only_their_bounds():
    """Hot on both sides of a gap: at least what is shown on one side, at most all of it."""
    gap = record((0, 61), (10, 61), (20, None), (30, 61), (35, 61))
    assert shown(gap, 60) == (600, 2100)
    far = record((0, 61), (TRUSTED, 61), (2 * TRUSTED + 1, 61))
    assert shown(far, 60) == (60 * TRUSTED, 60 * (2 * TRUSTED + 1))
    cold = record((0, 20), (5, None), (10, 20))
    assert shown(cold, 60) == (0, 600)


def test_a_record_cut_at_a_minute_ends_on_its_line():
    """What comes later is left out, and the stretch it falls in ends on the straight line."""
    cut = until(tuple(record((0, 0), (10, 10), (20, 0)).stretches(TRUSTED)), 15)
    assert [(s.to_minute, s.to_c) for s in cut] == [(10, 10), (15, 5)]


@pytest.mark.parametrize(
    ("minutes", "degrees"),
    [((0.0, 1.0), (5.0,)), ((0.0, 0.0), (5.0, 5.0)), ((1.0, 0.0), (5.0, 5.0)), ((0.0,), (float("nan"),))],
)
def test_what_no_sum_can_be_made_of_is_refused(minutes, degrees):
    """Lists of two lengths, times that do not rise, and numbers that are none."""
    with pytest.raises(BoardError):
        TemperatureLog(minutes, degrees)


@given(records(), st.integers(0, 950).map(lambda n: n / 10))
def test_the_least_shown_is_never_more_than_the_most(log, c):
    """The bounds stand in order and within the record's length."""
    least, most = shown(log, c)
    length = 60 * (log.readings[-1][0] - log.readings[0][0]) if log.readings else 0
    assert 0 <= least <= most + 1e-6 <= length + 2e-6


@given(st.data(), records(), st.integers(0, 950).map(lambda n: n / 10))
def test_readings_on_the_straight_line_change_nothing(data, log, c):
    """The bounds stay as they were, to the noise of a sum."""
    assert shown(data.draw(filled(log)), c) == pytest.approx(shown(log, c), abs=1e-4)


@given(st.data(), records(), st.integers(0, 950).map(lambda n: n / 10))
def test_lost_readings_never_show_more(data, log, c):
    """Whatever readings are lost, what is still shown was shown before."""
    assert shown(data.draw(holed(log)), c).least_s <= shown(log, c).least_s + 1e-6


@given(st.data(), records(), st.integers(0, 950).map(lambda n: n / 10))
def test_a_colder_record_is_never_hot_for_longer(data, log, c):
    """Each bound of a colder record is at most that of the hotter one."""
    cold, hot = shown(data.draw(colder(log)), c), shown(log, c)
    assert cold.least_s <= hot.least_s + 1e-6
    assert cold.most_s <= hot.most_s + 1e-6


@given(records(gaps=False, low=50.0, high=70.0), st.integers(500, 700).map(lambda n: n / 10))
def test_a_clock_that_looks_every_second_agrees(log, c):
    """Counting the seconds at which the line is not below the limit comes to the same, to three of them."""
    readings, longest, run = list(log.readings), 0, 0
    for (start, from_c), (end, to_c) in pairwise(readings):
        seconds = round(60 * (end - start))
        for second in range(seconds):
            run = run + 1 if from_c + (to_c - from_c) * second / seconds >= c - 1e-9 else 0
            longest = max(longest, run)
    assert shown(log, c).least_s == pytest.approx(longest, abs=3)
