"""Heat and water of whole cooks add up, through wraps, rests, moves and air that moves."""

import pytest

from board.cooking.solver import step
from tests.cooking.closure import HOT_ROAST, WHOLE, gaps, kept
from tests.cooking.published import CENTRE_BRISKET


@pytest.mark.parametrize("name", WHOLE)
def test_heat_and_water_are_all_accounted_for(name: str) -> None:
    """Water closes to rounding; heat in less vapour, juice and steam is the meat's gain, to 1e-4.

    The vapour's heat is summed here at each step's middle, and that rule is what the heat leaves open.
    """
    cook = WHOLE[name]
    books, course = kept(cook)
    water, heat = gaps(cook, books)
    assert course.reached[0]
    assert abs(water) < 1e-12
    assert abs(heat) < 1e-4


def test_shorter_steps_close_the_heat_further(monkeypatch: pytest.MonkeyPatch) -> None:
    """Second order: a sixteenth of the allowed error, so a quarter of the step, leaves less than 1e-5."""
    monkeypatch.setattr(step, "APART_K", step.APART_K / 16.0)
    for cook in (CENTRE_BRISKET, HOT_ROAST):
        assert abs(gaps(cook, kept(cook)[0])[1]) < 1e-5
