"""What another reading of the house's files changes, in words."""

from dataclasses import replace

import pytest

from board.house.model import Display
from board.views.house_changes import matters_to_plans, what_changed
from tests.app.house_fixture import house

BEFORE = house()
NORTH = BEFORE.pits["north"]


@pytest.mark.parametrize(
    ("now", "says"),
    [
        (BEFORE, ""),
        (replace(BEFORE, chance=0.8), "chance"),
        (replace(BEFORE, signs_with_pin=True), "whether signing asks for a PIN"),
        (replace(BEFORE, display=Display("lb", "degF", "gal", 12)), "units and clock"),
        (
            replace(BEFORE, pits={**BEFORE.pits, "north": replace(NORTH, area_m2=3.0, fuel_kg_per_hour=5.0)}),
            "area of North",
        ),
        (
            replace(BEFORE, pits={**BEFORE.pits, "annex": replace(NORTH, id="annex", name="Annex")}),
            "a pit more, Annex",
        ),
        (
            replace(BEFORE, recipes={}),
            "no poultry brine any more, no cider glaze any more and no pepper rub any more",
        ),
        (
            replace(BEFORE, people={}, chance=0.8),
            "no Ines any more, no Tomas any more, no Wren any more and 3 more",
        ),
    ],
)
def test_what_changed_is_said_in_few_words(now, says):
    """A field by the word a cook has for it, a thing that came or went by its name, the rest counted."""
    assert what_changed(BEFORE, now) == says


def test_units_and_prices_of_the_past_do_not_overtake_a_plan():
    """What a plan does not depend on leaves it as good as it was."""
    assert not matters_to_plans(BEFORE, replace(BEFORE, display=Display("lb", "degF", "gal", 12), sales=()))
    assert matters_to_plans(BEFORE, replace(BEFORE, chance=0.8))
