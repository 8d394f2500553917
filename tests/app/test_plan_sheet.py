"""The plan as a page for the wall."""

from dataclasses import replace

import pytest

from board.sheets.plan_sheet import plan_sheet
from tests.app.house_fixture import house, plan


@pytest.mark.parametrize(
    ("cost", "bound", "says"),
    [
        (100.0, 88.0, "; within 12 % of the best possible."),
        (100.0, 0.0, "; how far from the best possible is not known."),
    ],
    ids=["near", "unknown"],
)
def test_the_headline_tells_how_near_the_best_or_that_it_is_not_known(
    cost: float, bound: float, says: str
) -> None:
    """The same words as in the Tomorrow view; one load is no plural."""
    page = plan_sheet(replace(plan(), result="good", cost=cost, bound=bound), house())
    headline = page.splitlines()[1]
    assert headline.endswith(says)
    assert "for 1 loads" not in page
