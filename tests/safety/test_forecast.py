"""Whether cooling food will be in time, from two readings."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.safety.cooling import cooled
from board.safety.forecast import foreseen, slope_needed
from board.safety.log import TemperatureLog
from board.safety.verdict import Answer
from tests.safety.records import fahrenheit, record


@pytest.mark.parametrize(
    ("air_f", "first", "second"),
    [
        (32, 0.2165, 0.1564),
        (35, 0.2280, 0.1915),
        (37, 0.2364, 0.2291),
        (38, 0.2408, 0.2570),
        (39, 0.2455, 0.2976),
        (40, 0.2503, 0.3693),
    ],
)
def test_the_slopes_that_the_code_asks(air_f: float, first: float, second: float):
    """Decades an hour from 135 to 70 °F in 2 h and from 70 to 41 °F in 4 h, for air of each temperature."""
    hours = [
        60 * slope_needed(fahrenheit(a), fahrenheit(b), minutes, fahrenheit(air_f))
        for a, b, minutes in ((135, 70, 120), (70, 41, 240))
    ]
    assert hours == [pytest.approx(first, abs=6e-5), pytest.approx(second, abs=6e-5)]


def cooling_curve(decades_an_hour: float, air_c: float, minutes, start_c: float = 57.0):
    """Food that cools as the method has it."""
    return record(*((m, air_c + (start_c - air_c) * 10 ** (-decades_an_hour * m / 60)) for m in minutes))


def test_food_that_cools_just_fast_enough_is_foreseen_in_time():
    """At the slope for 35 °F air, 70 °F is foreseen at 2 h; a hundredth slower is late."""
    air, slope = fahrenheit(35), 60 * slope_needed(57, fahrenheit(70), 120, fahrenheit(35))
    first, whole = foreseen(cooling_curve(slope * 1.0001, air, (0, 30)), air)
    assert first.at_minute == pytest.approx(120, abs=0.1)
    assert (first.in_time, whole.in_time) == (True, True)
    first, whole = foreseen(cooling_curve(slope * 0.99, air, (0, 30)), air)
    assert (first.in_time, whole.in_time) == (False, True)
    assert first.late_minutes == pytest.approx(1.2, abs=0.1)


def test_hot_food_is_timed_from_57():
    """What it takes from 80 °C down does not count: the checkpoint lies two hours after it passes 57 °C."""
    log = cooling_curve(0.3, 2.0, (0, 20), start_c=80.0)
    first, _ = foreseen(log, 2.0)
    passes = 60 * slope_needed(80, 57, 1 / 60, 2.0) / 0.3 / 60
    assert first.due_minute == pytest.approx(120 + passes * 60 / 60, abs=0.5)


def test_air_warmer_than_the_checkpoint_never_gets_there():
    """In a 10 °C room food comes to 21 °C but not to 5 °C."""
    first, whole = foreseen(cooling_curve(0.3, 10.0, (0, 30)), 10.0)
    assert first.at_minute is not None
    assert (whole.at_minute, whole.in_time, whole.late_minutes) == (None, False, None)


def test_nothing_is_foreseen_from_one_reading_nor_from_food_that_does_not_cool():
    """One reading, two five minutes apart, food that warms, food as cold as its air, a record of nothing."""
    for log in (
        record((0, 57)),
        record((0, 57), (5, 50)),
        record((0, 50), (30, 55)),
        record((0, 57), (30, 3)),
        record(),
    ):
        assert foreseen(log, 3.0) == ()


def test_a_checkpoint_that_was_met_is_told_as_it_was():
    """At 21 °C after 100 min by a reading, whatever the line since says."""
    log = record((0, 57), (60, 35), (100, 20), (130, 18), (160, 17))
    first, _ = foreseen(log, 3.0)
    assert first.in_time
    assert first.at_minute <= 100


@settings(max_examples=40, deadline=None)
@given(st.floats(0.12, 0.6), st.floats(-2.0, 4.5), st.floats(57.0, 95.0))
def test_food_is_judged_as_it_was_foreseen(slope: float, air_c: float, start: float):
    """What is foreseen in the first half hour is what the whole record shows, but for a hair's breadth."""
    whole = cooling_curve(slope, air_c, range(0, 1500, 1), start)
    early = TemperatureLog(whole.minutes[:31], whole.temperatures_c[:31])
    told = foreseen(early, air_c)
    if all(f.late_minutes is None or abs(f.late_minutes) > 1.0 for f in told):
        judged = cooled(whole).answer
        assert judged is (Answer.PASS if all(f.in_time for f in told) else Answer.FAIL)
