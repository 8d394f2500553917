"""Readings left out of the sum, in words."""

import pytest

from board.cooking.readings.left_out import LeftOut, Why
from board.house.model import Display
from board.views.left_out import says_left_out

OTHER_UNIT = {Why.FAHRENHEIT: 73.0, Why.CELSIUS: 158.0}


@pytest.mark.parametrize("why", Why)
def test_every_reason_has_words_of_its_own(why: Why) -> None:
    """No reading is left out without a reason that a cook can read."""
    one = LeftOut(0, 90.0, 70.0, why, OTHER_UNIT.get(why))
    said = says_left_out(one, Display())
    assert said.startswith("70 °C is left out of the estimate: ")
    others = {says_left_out(LeftOut(0, 90.0, 70.0, o, OTHER_UNIT.get(o)), Display()) for o in Why if o != why}
    assert said not in others
