"""What a house's scales and jugs show, as its file says it."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.rounding import measured, weighed
from board.errors import HouseFileError
from board.house.model import Scales
from board.house.read_scales import read_scales, usual_scales
from board.house.tables import toml_table


def read(text: str) -> Scales:
    """The scales of a house whose [scales] says so."""
    return read_scales(toml_table("house.toml", text))


def test_without_a_word_they_are_the_usual_ones():
    """A fine scale of 0.1 g to 200 g, a bench scale and jugs, common practice without a source."""
    assert read_scales(None) == usual_scales()
    assert usual_scales().fine == ((200.0, 0.1, "g"),)
    assert usual_scales().bench[-1] == (inf, 50.0, "g")


def test_a_house_says_its_own_in_its_own_units():
    """A scale of ounces shows ounces, however much it is; a cup jug shows quarter cups."""
    own = read('fine = ["0.01 g to 100 g"]\nbench = ["0.1 oz to 5 lb", "0.5 oz"]\njug = ["0.25 cup"]')
    assert weighed(56.684, fine=True, scales=own).amount == pytest.approx(56.68)
    assert weighed(500.0, scales=own).step_g == pytest.approx(2.8349523125)
    assert weighed(5_000.0, scales=own).step_g == pytest.approx(14.1747615625)
    assert measured(1.0, scales=own).step_g == pytest.approx(59.14705913)
    ounces = weighed(500.0, scales=own)
    assert (ounces.amount, ounces.unit) == (pytest.approx(17.6), "oz")
    assert (weighed(5_000.0, scales=own).amount, weighed(5_000.0, scales=own).unit) == (176.5, "oz")
    assert (measured(1.0, scales=own).amount, measured(1.0, scales=own).unit) == (4.25, "cup")


@pytest.mark.parametrize(
    "text",
    [
        'bench = ["1 g to 1 kg"]',  # nothing beyond a kilogram
        'bench = ["5 g to 5 kg", "1 g to 1 kg", "50 g"]',
        'bench = ["0 g"]',
        'bench = ["1 L"]',
        'bench = ["1 stone"]',
        'jug = ["1 g"]',
        "fine = []",
        "fine = 3",
        'fine = ["0.1 g to 200 g to 300 g"]',
        'coarse = ["1 g"]',
    ],
)
def test_what_is_no_scale_is_refused_in_one_line(text: str):
    """Steps out of order, of nought, of the wrong kind or without an end are told with a right example."""
    with pytest.raises(HouseFileError) as told:
        read(text)
    assert "\n" not in str(told.value)


@given(
    step=st.floats(0.01, 50),
    end=st.floats(60, 5_000),
    coarse=st.floats(50.1, 500),
    grams=st.floats(0, 20_000),
)
def test_no_scale_is_ever_off_by_more_than_half_its_step(
    step: float, end: float, coarse: float, grams: float
):
    """Whatever the house's steps, what is shown lies within half of the one in use."""
    own = read(f'bench = ["{step:.4f} g to {end:.4f} g", "{coarse:.4f} g"]')
    shown = weighed(grams, scales=own)
    assert abs(shown.grams - grams) <= shown.step_g / 2 + 1e-3
