"""Temperatures of holding, cooling and cooking against the printed code."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.house.model import Handling
from board.safety.limits import (
    cold_hold_most_c,
    cook_rule,
    cooling,
    hold_seconds,
    hot_hold_least_c,
    least_core_c,
)
from tests.safety.records import fahrenheit


def test_holding():
    """FDA Food Code 3-501.16: 57 °C and over, 54 °C for charted roasts, 5 °C and under."""
    assert (hot_hold_least_c(), cold_hold_most_c()) == (57, 5)
    assert hot_hold_least_c(charted_roast=True) == 54


def test_cooling_checkpoints():
    """FDA Food Code 3-501.14: 57 to 21 °C in 2 h, to 5 °C in 6 h in all; 70 °F, 21.1 °C, meets it too."""
    rule = cooling()
    assert (rule.starts_c, rule.first_minutes, rule.all_c, rule.all_minutes) == (57, 120, 5, 360)
    assert rule.first_c == pytest.approx(fahrenheit(70), abs=1e-6)


@pytest.mark.parametrize(
    ("handling", "f"),
    [
        (Handling.INTACT_ROAST, 130),
        (Handling.CURED_HAM, 130),
        (Handling.INTACT_CUT, 145),
        (Handling.INJECTED, 145),
        (Handling.GROUND, 145),
    ],
)
def test_least_core(handling: Handling, f: float):
    """The coldest row of each rule of 3-401.11, in the scale that is met first."""
    assert least_core_c(handling) == pytest.approx(fahrenheit(f), abs=0.05)


@pytest.mark.parametrize("handling", [Handling.POULTRY, Handling.STUFFED])
def test_poultry_is_cooked_at_165_f_at_once(handling: Handling):
    """165 °F typed by a cook, 73.9 °C, meets 3-401.11(A)(3), which prints 74 °C; a degree less does not."""
    assert hold_seconds(handling, fahrenheit(165)) == 0
    assert hold_seconds(handling, fahrenheit(164)) is None


@pytest.mark.parametrize(
    ("core_c", "seconds"), [(54.4, 6720), (60.0, 720), (65.0, 85), (68.3, 22), (70.0, 0), (93.0, 0)]
)
def test_roast_chart_rows(core_c: float, seconds: float):
    """FDA Food Code 3-401.11(B), the same meat rows as USDA FSIS Appendix A (1999)."""
    assert hold_seconds(Handling.INTACT_ROAST, core_c) == seconds


def test_injected_meat_is_not_an_intact_roast():
    """At 60 °C a roast needs 12 minutes; injected meat is not cooked there however long."""
    assert hold_seconds(Handling.INTACT_ROAST, 60.0) == 720
    assert hold_seconds(Handling.INJECTED, 60.0) is None
    assert hold_seconds(Handling.INJECTED, fahrenheit(145)) == 180


@pytest.mark.parametrize("handling", list(Handling))
def test_every_handling_has_a_rule_that_eases_with_heat(handling: Handling):
    """Each handling has its rule with a source; a hotter row never asks for longer."""
    rule = cook_rule(handling)
    temperatures, seconds = [c for c, _ in rule.rows], [s for _, s in rule.rows]
    assert temperatures == sorted(temperatures)
    assert seconds == sorted(seconds, reverse=True)
    assert "3-401.11" in rule.source


@given(st.sampled_from(list(Handling)), st.floats(40, 100), st.floats(0, 30))
def test_hotter_never_needs_longer(handling: Handling, core_c: float, more: float):
    """Nothing is read between rows, so warmer meat is never asked to wait longer."""
    cooler, warmer = hold_seconds(handling, core_c), hold_seconds(handling, core_c + more)
    assert cooler is None or (warmer is not None and warmer <= cooler)
