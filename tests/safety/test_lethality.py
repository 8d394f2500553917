"""Lethality against the published worksheet and tables, and that it never grows in the cold."""

from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.house.model import Handling
from board.safety.lethality import cumulative, lethality_log10, poultry_rate, reference_set
from board.safety.log import TemperatureLog
from board.safety.tables import table
from tests.safety.records import fahrenheit, record, records

# American Meat Institute Foundation worksheet, the sheet of Salmonella in lean ground beef: every 0.5 min
CORE_F = [40, 64, 82, 97, 113, 128, 138, 142, 145, 148, 145, 140, 137, 136, 135, 134]
F_MINUTES = [0, 0, 0, 0, 0, 0.002, 0.019, 0.074, 0.193, 0.43, 0.667, 0.771, 0.808, 0.831, 0.849, 0.863]
SHEET = TemperatureLog(tuple(0.5 * i for i in range(len(CORE_F))), tuple(map(fahrenheit, CORE_F)))


@pytest.mark.parametrize("i", range(len(CORE_F)))
def test_the_published_worksheet_recomputes(i: int):
    """Each cumulative F of the sheet, t 150 °F, z 10 °F, to the 0.001 min it is printed with."""
    beef = reference_set("salmonella_lean_beef")
    f_minutes = cumulative(SHEET, beef.rate)[i] * beef.d_minutes
    assert f_minutes == pytest.approx(F_MINUTES[i], abs=0.001)


def test_the_sheets_decades():
    """F 0.863 min over D 0.172 min is 5.02 decades; the next row, 133 °F, makes it 5.08."""
    assert lethality_log10(SHEET, Handling.GROUND) == pytest.approx(5.02, abs=0.005)
    longer = TemperatureLog((*SHEET.minutes, 8.0), (*SHEET.temperatures_c, fahrenheit(133)))
    assert lethality_log10(longer, Handling.GROUND) == pytest.approx(5.08, abs=0.005)


@pytest.mark.parametrize(
    ("name", "f", "z_f", "d_minutes"),
    [
        ("salmonella_lean_beef", 150, 10, 0.172),
        ("listeria_hot_dog", 144, 10.8, 3.3),
        ("appendix_a_line_145", 145, 10, 0.5449),
    ],
)
def test_each_set_takes_off_a_decade_in_its_d(name: str, f: float, z_f: float, d_minutes: float):
    """At its reference temperature one decade takes D minutes, z hotter a tenth of that."""
    found, printed = reference_set(name), table("lethality")["set"][name]
    assert d_minutes * found.rate(fahrenheit(f)) == pytest.approx(1)
    assert d_minutes * found.rate(fahrenheit(f + z_f)) == pytest.approx(10)
    assert printed["z"]["k"] == pytest.approx(z_f / 1.8, abs=0.006)


def test_the_sets_of_beef_are_one_line():
    """112 min at 130 °F for 6.5 decades, z 10 °F: D 0.1723 min at 150 °F and 0.5449 at 145."""
    assert reference_set("salmonella_lean_beef").d_minutes == pytest.approx(112 / 6.5 / 100, abs=0.0005)
    assert reference_set("appendix_a_line_145").d_minutes == pytest.approx(112 / 6.5 * 10**-1.5, abs=0.0001)


def test_the_chart_is_as_many_decades_as_it_is_made_for():
    """Appendix A is the line's 6.5 decades to its printed unit: a minute from 4 min on, else a second."""
    line = reference_set("appendix_a_line_145")
    for row in table("fsis")["meat"]["rows"]:
        if row["log65_s"]:
            exact_s = 60 * 6.5 / line.rate(fahrenheit(row["f"]))
            assert row["log65_s"] == pytest.approx(exact_s, abs=60 if row["log65_s"] >= 240 else 1)


@pytest.mark.parametrize("f", [136, 140, 145, 155, 160])
def test_poultry_by_its_own_tables(f: int):
    """At a row common to the three tables, 7 decades take the longest of their times."""
    longest = max(
        row["log7_s"] for part in table("fsis")["poultry"].values() for row in part["rows"] if row["f"] == f
    )
    assert poultry_rate(fahrenheit(f)) * longest / 60 == pytest.approx(7)


def test_poultry_is_read_along_the_logarithm_and_not_beyond_the_table():
    """Half way between rows the time is their geometric mean; nothing below 136 °F, no more above 160 °F."""
    fat = {row["f"]: row["log7_s"] for row in table("fsis")["poultry"]["chicken-12"]["rows"]}
    middle_s = 10 ** ((log10(fat[136]) + log10(fat[140])) / 2)
    assert poultry_rate(fahrenheit(138)) * middle_s / 60 == pytest.approx(7)
    assert poultry_rate(fahrenheit(135.9)) == 0
    assert poultry_rate(fahrenheit(190)) == poultry_rate(fahrenheit(160))


def test_wide_stretches_are_cut_into_the_worksheets_steps():
    """Ten degrees in half an hour: two readings say the same to 1 % as one every half minute."""
    two = record((0, 55), (30, 65))
    many = TemperatureLog(tuple(0.5 * i for i in range(61)), tuple(55 + i / 6 for i in range(61)))
    coarse, fine = (lethality_log10(log, Handling.INTACT_ROAST) for log in (two, many))
    assert coarse == pytest.approx(fine, rel=0.01)


def test_a_stretch_nobody_read_takes_off_nothing():
    """The same two readings with one lost between them."""
    assert lethality_log10(record((0, 70), (5, None), (10, 70)), Handling.GROUND) == 0


@given(st.data(), records(), st.sampled_from(list(Handling)))
def test_lethality_never_falls_along_a_record(data, log, handling):
    """Readings added at the end never take decades back."""
    cut = data.draw(st.integers(1, len(log.minutes)))
    start = TemperatureLog(log.minutes[:cut], log.temperatures_c[:cut])
    assert lethality_log10(start, handling) <= lethality_log10(log, handling)
