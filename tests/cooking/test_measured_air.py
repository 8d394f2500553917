"""A pit's air from its readings: typing faults left out, swings forgotten, a lasting departure kept."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.cooking.cook import AirCurve
from board.cooking.errors import CookingError
from board.cooking.pit_air import Setpoint, expected_air
from board.cooking.readings.air import carried_over, measured_air, sieve_air
from board.cooking.readings.left_out import Why
from board.cooking.sampling import BAND_SD

ASKED = [Setpoint(0.0, 118.0)]
BAND_K = 12.0
RECOVERY = 10.0


def air(readings: list[tuple[float, float]], asked: list[Setpoint] = ASKED) -> AirCurve:
    """An offset pit's air as read."""
    return measured_air(asked, RECOVERY, BAND_K, readings)


def at(curve: AirCurve, minute: float) -> float:
    """The air of a curve at a minute, °C."""
    return float(np.interp(minute, curve.minutes, curve.celsius))


def test_without_readings_it_is_what_was_asked() -> None:
    """Nothing read, nothing learned: the expected air, with the control band's own departure."""
    assert air([]) == expected_air(ASKED, RECOVERY)
    assert air([]).departure_k is None


def test_readings_are_nearly_met() -> None:
    """At a reading the air is within its own error of it."""
    curve = air([(60.0, 104.0), (120.0, 124.0)])
    assert at(curve, 60.0) == pytest.approx(104.0, abs=1.0)
    assert at(curve, 120.0) == pytest.approx(124.0, abs=1.0)


def test_a_swing_is_forgotten_and_a_departure_kept() -> None:
    """A fall of an hour leaves the rest of the night at its setpoint; a night 6 K low stays low ahead."""
    fall = air([(100.0, 118.0), (130.0, 84.0), (160.0, 117.0), (190.0, 119.0)])
    low = air([(30.0 * n, 112.0) for n in range(1, 17)])
    assert at(fall, 600.0) == pytest.approx(118.0, abs=2.0)
    assert 112.0 < at(low, 1200.0) < 115.5


def test_many_readings_leave_less_open_than_the_band() -> None:
    """What is not known of the mean air shrinks with readings, never below the thermometer's own error."""
    few, many = air([(60.0, 118.0)]), air([(30.0 * n, 118.0) for n in range(1, 40)])
    assert few.departure_k is not None
    assert many.departure_k is not None
    assert 1.5 < many.departure_k < few.departure_k < np.hypot(BAND_SD * BAND_K, 1.5)


@pytest.mark.parametrize(
    ("celsius", "why"),
    [(245.0, Why.FAHRENHEIT), (48.0, Why.CELSIUS), (900.0, Why.NO_READING), (float("nan"), Why.NO_READING)],
)
def test_a_mistyped_air_is_left_out(celsius: float, why: Why) -> None:
    """Air in the wrong unit, or that no pit has, does not count; the rest does."""
    good = [(30.0, 117.0), (60.0, 119.0), (120.0, 118.0)]
    kept, out = sieve_air(expected_air(ASKED, RECOVERY), [*good, (90.0, celsius)])
    assert kept == good
    assert [one.why for one in out] == [why]


def test_a_fire_that_dies_is_believed() -> None:
    """Reading after reading near 48 °C is no typing fault, though 48 °C is what 118 °F would be."""
    dying = [*((10.0 * n, 118.0) for n in range(1, 9)), (90.0, 80.0), (120.0, 50.0), (150.0, 48.0)]
    kept, out = sieve_air(expected_air(ASKED, RECOVERY), dying)
    assert kept == dying
    assert out == []


def test_a_raised_setpoint_is_met_ahead() -> None:
    """What was asked after the last reading is still to come."""
    curve = air([(60.0, 118.0), (120.0, 117.0)], [*ASKED, Setpoint(150.0, 135.0)])
    assert at(curve, 300.0) == pytest.approx(135.0, abs=2.0)


def test_a_change_of_pits_joins_their_airs() -> None:
    """Up to the change the first pit's air, from then on the second's."""
    joined = carried_over(
        air([(60.0, 110.0)]), 90.0, measured_air([Setpoint(0.0, 140.0)], RECOVERY, BAND_K, [])
    )
    assert at(joined, 60.0) == pytest.approx(110.0, abs=1.0)
    assert at(joined, 91.0) == pytest.approx(140.0, abs=1.0)
    assert joined.measured_until == 60.0
    assert (np.diff(joined.minutes) >= 0).all()


def test_air_needs_a_setpoint() -> None:
    """Readings alone do not say what the pit is asked for."""
    with pytest.raises(CookingError):
        measured_air([], RECOVERY, BAND_K, [(60.0, 118.0)])


@given(
    st.lists(
        st.tuples(
            st.one_of(st.floats(-60, 900), st.just(30.0)), st.one_of(st.floats(-60, 500), st.just(48.0))
        ),
        max_size=12,
    )
)
def test_air_is_always_finite_and_every_reading_accounted_for(readings: list[tuple[float, float]]) -> None:
    """Whatever is typed, the curve is finite and runs forward, and each reading counts or is named once."""
    curve = air(readings)
    assert np.isfinite(curve.celsius).all()
    assert (np.diff(curve.minutes) >= 0).all()
    kept, out = sieve_air(expected_air(ASKED, RECOVERY), readings)
    assert sorted([*kept, *((one.minute, one.core_c) for one in out)]) == sorted(readings)
