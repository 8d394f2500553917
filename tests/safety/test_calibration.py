"""Probe checks at the ice point and the boiling point."""

import pytest

from board.safety.calibration import boiling_point_c, checked_boiling, checked_ice, steam_c
from board.safety.verdict import Answer
from tests.safety.records import fahrenheit


@pytest.mark.parametrize(
    ("pressure_pa", "kelvin"), [(0.1e6, 372.755919), (1e6, 453.035632), (10e6, 584.149488)]
)
def test_steam_by_its_published_values(pressure_pa: float, kelvin: float):
    """IAPWS-IF97, table 36, to its last digit."""
    assert steam_c(pressure_pa) + 273.15 == pytest.approx(kelvin, abs=1e-6)


@pytest.mark.parametrize(
    ("metres", "celsius"),
    [(0, 99.97), (500, 98.3), (1000, 96.7), (1609, 94.6), (3000, 90.0)],
)
def test_water_boils_cooler_in_the_mountains(metres: float, celsius: float):
    """Standard air, ISO 2533: 101.325, 95.46, 89.87, 83.43 and 70.11 kPa, in a steam table, to 0.1 °C."""
    assert boiling_point_c(metres) == pytest.approx(celsius, abs=0.1)


@pytest.mark.parametrize(
    ("reading", "answer"),
    [
        (0, Answer.PASS),
        (1.0, Answer.PASS),
        (-1.0, Answer.PASS),
        (fahrenheit(34), Answer.PASS),
        (fahrenheit(30), Answer.PASS),
        (1.2, Answer.FAIL),
        (fahrenheit(29.9), Answer.FAIL),
    ],
)
def test_ice_water_within_a_degree_celsius_or_two_fahrenheit(reading: float, answer: Answer):
    """4-203.11: plus or minus 1 °C or 2 °F."""
    check = checked_ice(reading)
    assert (check.answer, check.expected_c, check.off_by_k) == (answer, 0, reading)
    assert ("take it out of use" in check.why) == (answer is Answer.FAIL)


def test_boiling_water_at_the_houses_height():
    """Right at the sea and wrong on a mountain, or the other way about."""
    assert checked_boiling(100.0, 0).answer is Answer.PASS
    assert checked_boiling(100.0, 1609).answer is Answer.FAIL
    assert checked_boiling(94.6, 1609).answer is Answer.PASS
    assert "5.4 °C (9.7 °F) too high" in checked_boiling(100.0, 1609).why
