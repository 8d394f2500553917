"""Amounts as a scale or a jug shows them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.rounding import Shown, measured, weighed
from board.house.units import registry


@pytest.mark.parametrize(
    ("grams", "shown"),
    [
        (3.26, (3.3, "g")),
        (42.34, (42.0, "g")),
        (999.6, (1.0, "kg")),
        (1_237.0, (1.235, "kg")),
        (7_444.0, (7.44, "kg")),
        (23_130.0, (23.15, "kg")),
    ],
)
def test_bench_scale_steps(grams: float, shown: tuple[float, str]):
    """A gram to 1 kg, five to 5 kg, ten to 15 kg, fifty above, a tenth below 10 g."""
    found = weighed(grams)
    assert (found.amount, found.unit) == shown


def test_cures_go_on_the_fine_scale():
    """A cure is weighed to a tenth of a gram up to 200 g."""
    assert weighed(56.68, fine=True).amount == 56.7
    assert weighed(256.68, fine=True).amount == 257


def test_jug_marks():
    """A jug shows 10 mL below a litre and 50 mL to five."""
    assert measured(0.4234) == Shown(420, "mL", 10, 420, 10)
    assert (measured(3.77).amount, measured(3.77).unit) == (3.75, "L")


@given(st.floats(0, 200_000), st.booleans())
def test_never_off_by_more_than_half_a_step(grams: float, fine: bool):
    """Whatever the mass, what is shown lies within half a step of it."""
    shown = weighed(grams, fine=fine)
    exact = grams / 1_000 if shown.unit == "kg" else grams
    assert abs(shown.amount - exact) <= shown.step / 2 + 1e-3 * shown.step


@given(st.floats(0.05, 100_000))
def test_the_units_shown_are_units_pint_knows(grams: float):
    """What is shown turns back, through pint, into the mass it stands for to half a step."""
    shown = weighed(grams)
    quantity = registry().Quantity(shown.amount, shown.unit)
    half_step = registry().Quantity(shown.step / 2, shown.unit).to("g").magnitude
    assert quantity.to("g").magnitude == pytest.approx(grams, abs=half_step * 1.002)
