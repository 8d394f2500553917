"""A time of day as people type it."""

from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.house.time_typed import time_of_day


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("11", time(11)),
        ("9:30", time(9, 30)),
        ("930", time(9, 30)),
        ("1130", time(11, 30)),
        ("17.30", time(17, 30)),
        (" 2:30 PM ", time(14, 30)),
        ("5pm", time(17)),
        ("12 am", time(0)),
        ("12 pm", time(12)),
    ],
)
def test_a_time_is_read_as_it_is_written_on_either_clock(typed: str, meant: time) -> None:
    """With or without a colon, a dot, minutes, or its half of the day."""
    assert time_of_day(typed) == meant


@pytest.mark.parametrize("typed", ["", "noon", "24", "11:60", "13 pm", "0 am", "9:5", "12345", "-1", "٣:30"])
def test_what_is_no_time_is_none(typed: str) -> None:
    """Nothing is guessed of hours and minutes that no clock shows."""
    assert time_of_day(typed) is None


@given(st.times())
def test_every_minute_of_the_day_is_read_back(at: time) -> None:
    """On both clocks."""
    minute = at.replace(second=0, microsecond=0)
    assert time_of_day(f"{minute:%H:%M}") == time_of_day(f"{minute:%I:%M %p}") == minute
