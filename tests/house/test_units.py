"""Quantities read and written."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import QuantityError
from board.house import kinds, units
from board.house.model import Display

US = Display("lb", "degF", "gal", 24)
METRIC = Display()


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        # NIST SP 811 (2008), appendix B.8: 1 lb = 0.453 592 37 kg, 1 in = 0.0254 m exactly
        (units.parse_mass_kg, "1 lb", 0.45359237),
        (units.parse_mass_kg, "14 lb", 14 * 0.45359237),
        (units.parse_mass_kg, "6.4 kg", 6.4),
        (units.parse_mass_kg, "2 lb 8 oz", 2.5 * 0.45359237),
        (units.parse_mass_kg, "1½ lb", 1.5 * 0.45359237),
        (units.parse_mass_kg, "2 stone", 28 * 0.45359237),
        (units.parse_length_m, "5 in", 0.127),
        (units.parse_area_m2, "1.8 m2", 1.8),
        (units.parse_area_m2, "20 sq ft", 20 * 0.3048**2),
        (units.parse_area_m2, "24 x 36 in", 24 * 36 * 0.0254**2),
        (units.parse_area_m2, "60 cm x 1.2 m", 0.72),
        # NIST Handbook 44 (2024), appendix C: 1 US gallon = 3.785 411 784 L exactly
        (units.parse_volume_l, "1 gal", 3.785411784),
        (units.parse_volume_l, "2 qt", 3.785411784 / 2),
        (units.parse_volume_l, "1 cup", 0.2365882365),
        (units.parse_minutes, "90 min", 90),
        (units.parse_minutes, "1 h 30", 90),
        (units.parse_minutes, "2h40", 160),
        (units.parse_minutes, "1 h 30 min", 90),
        (units.parse_minutes, "5 days", 7200),
        # NIST SP 811 (2008), appendix B.8: t/°C = (t/°F - 32)/1.8
        (units.parse_temperature_c, "212 F", 100),
        (units.parse_temperature_c, "32°F", 0),
        (units.parse_temperature_c, "107 °C", 107),
        (units.parse_temperature_c, "140 degC", 140),
        (units.parse_temperature_c, "-40 F", -40),
        (units.parse_temperature_difference_k, "18 F", 10),
        (units.parse_temperature_difference_k, "10 °C", 10),
        (units.parse_fraction, "8 %", 0.08),
        (units.parse_fraction, 0.08, 0.08),
        (units.parse_density_kg_l, "1.2 kg/L", 1.2),
        (units.parse_density_kg_l, "236.5882365 g/cup", 1.0),
        (units.parse_mass_rate_kg_h, "4 kg/h", 4),
        (units.parse_mass_rate_kg_h, "10 lb per hour", 4.5359237),
        (units.parse_price_a_kg, "0.45359237 / lb", 1),
    ],
)
def test_a_quantity_is_read_in_any_usual_spelling(read, text, value):
    """Each text gives its SI value."""
    assert read(text) == pytest.approx(value, rel=1e-12, abs=1e-12)


def test_225_fahrenheit_is_107_2_celsius():
    """225 °F, the commonest pit setpoint, is 107.2 °C to the tenth (NIST SP 811, appendix B.8)."""
    assert round(units.parse_temperature_c("225 F"), 1) == 107.2


@pytest.mark.parametrize(
    ("read", "text"),
    [
        (units.parse_mass_kg, "5"),
        (units.parse_mass_kg, "5 m"),
        (units.parse_mass_kg, "-3 kg"),
        (units.parse_mass_kg, "6,4 kg"),
        (units.parse_mass_kg, ""),
        (units.parse_mass_kg, "2 T"),
        (units.parse_mass_kg, "9" * 400 + " kg"),
        (units.parse_mass_kg, "1/0 kg"),
        (units.parse_area_m2, "3 kg"),
        (units.parse_area_m2, "12 x"),
        (units.parse_volume_l, "2 lb"),
        (units.parse_minutes, "3"),
        (units.parse_minutes, "2 kg"),
        (units.parse_temperature_c, "225"),
        (units.parse_temperature_c, "2 bar"),
        (units.parse_temperature_c, "-300 C"),
        (units.parse_temperature_c, "5000 C"),
        (units.parse_fraction, "-1 %"),
        (units.parse_fraction, "8 kg"),
        (units.parse_fraction, True),
        (units.parse_density_kg_l, "1.2 kg"),
        (units.parse_density_kg_l, "1.2 kg/0 L"),
        (units.parse_mass_rate_kg_h, "4 kg"),
        (units.parse_price_a_kg, "cheap / kg"),
    ],
)
def test_a_wrong_dimension_or_a_bare_number_is_refused_with_a_right_example(read, text):
    """The error says what was found and shows what to write, on one line."""
    with pytest.raises(QuantityError, match=r"write .+\d") as caught:
        read(text)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize("kind", [kinds.MASS, kinds.LENGTH, kinds.AREA, kinds.VOLUME, kinds.TIME])
def test_the_table_of_spellings_agrees_with_the_unit_library(kind):
    """Every spelling pint also knows has pint's factor, so the quick table never drifts from it."""
    known = {
        spelling: factor
        for spelling, factor in kind.units.items()
        if spelling not in {"#", '"', "'", "m"} and not spelling.startswith(("sq ", "fl ", "sqft", "floz"))
    }
    asked = {s: units._factor(kind.si, s) for s in known}
    agreed = {s: f for s, f in asked.items() if f is not None}
    assert len(agreed) >= 3
    assert agreed == {s: pytest.approx(known[s], rel=1e-9) for s in agreed}


@given(st.text(max_size=80))
def test_no_text_does_more_than_be_refused(text):
    """Whatever is typed, each reader gives a number or the one error."""
    for read in (units.parse_mass_kg, units.parse_area_m2, units.parse_minutes, units.parse_temperature_c):
        with suppress(QuantityError):
            assert read(text) == read(text)


@given(st.floats(0.02, 900), st.sampled_from([US, METRIC]))
def test_a_mass_survives_being_written_and_read(kg, display):
    """What the board prints, it reads back within the rounding of three figures."""
    assert units.parse_mass_kg(units.format_mass(kg, display)) == pytest.approx(kg, rel=0.04)


@given(st.floats(0.02, 900), st.sampled_from([US, METRIC]))
def test_a_volume_survives_being_written_and_read(litres, display):
    """What the board prints, it reads back within the rounding of three figures."""
    assert units.parse_volume_l(units.format_volume(litres, display)) == pytest.approx(litres, rel=0.04)


@given(st.floats(-30, 300), st.sampled_from([US, METRIC]))
def test_a_temperature_survives_being_written_and_read(c, display):
    """What the board prints, it reads back to the half degree."""
    assert units.parse_temperature_c(units.format_temperature(c, display)) == pytest.approx(c, abs=0.51)


def test_masses_are_written_as_a_cook_says_them():
    """Pounds and ounces in an American house, kilograms and grams in a metric one."""
    assert units.format_mass(6.5, US) == "14.3 lb"
    assert units.format_mass(0.1, US) == "3.5 oz"
    assert units.format_mass(6.5, METRIC) == "6.5 kg"
    assert units.format_mass(0.25, METRIC) == "250 g"
    assert units.format_temperature(118.3, METRIC, unit=False) == "118°"
    assert units.format_temperature(107.2222, US) == "225 °F"
    assert units.format_volume(18, METRIC) == "18 L"
