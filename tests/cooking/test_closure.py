"""Heat and water of whole cooks add up, through wraps, rests, moves and air that moves."""

from dataclasses import replace

import pytest

from board.cooking.cook import Rest
from board.cooking.solver import step
from board.house.model import Work, Wrap, WrapMaterial
from tests.cooking.against import COOKS
from tests.cooking.closure import gaps, kept
from tests.cooking.published import CENTRE_BRISKET, published

HOT_ROAST = next(row.cook for row in published() if row.name.startswith("rib roast chart, 2.3"))
EVERYTHING = replace(
    COOKS["brisket, pit falls and is raised"],
    wrap=Wrap(WrapMaterial.PAPER, 70.0, Work()),
    rest=Rest("hold", 120.0),
)
WHOLE = COOKS | {"brisket": CENTRE_BRISKET, "roast": HOT_ROAST, "air, paper and hold": EVERYTHING}


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
