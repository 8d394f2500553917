"""The two scales: a sentence told in the one the house reads."""

from board.house.degrees import in_one_scale
from board.house.model import Display

SAYS = "At 61.1 °C (142 °F) for 8 min, then -18 °C (-0.4 °F); 3 °C of it is not told twice."


def test_a_house_that_reads_fahrenheit_is_told_fahrenheit():
    """A temperature told in both scales keeps the °F; one told in one scale stays."""
    told = in_one_scale(SAYS, Display(temperature="degF"))
    assert told == "At 142 °F for 8 min, then -0.4 °F; 3 °C of it is not told twice."


def test_a_house_that_reads_celsius_is_told_celsius():
    """And the other way about."""
    told = in_one_scale(SAYS, Display(temperature="degC"))
    assert told == "At 61.1 °C for 8 min, then -18 °C; 3 °C of it is not told twice."
