"""Doubts about what keeps people well in a house's files, each by the rule of its jurisdiction."""

from dataclasses import replace

import pytest

from board.house.files import read_house
from board.planning.doubts import every_doubt, safety_doubts
from tests.house.conftest import house_with
from tests.house.test_check import CURE, DAY

__all__ = ["house_with"]

INJECTED = '[[ham-bone-in.prep]]\nwhat = "inject"\nrecipe = "cure"\ngap = ["5 days", "7 days"]'
HAM = '[sliced]\nportions_a_piece = 1\nprice = 90\ncut = "ham-bone-in"\n'
HALF = '[sliced]\ncut = "chicken-half"\nportions_a_piece = 1\nprice = 9'
LOIN = '[sliced]\ncut = "pork-loin"\nportion = "150 g"\nprice = 9'
TURKEY = '[sliced]\ncut = "turkey-whole"\nportions_a_piece = 1\nprice = 80'
BRINE = (
    '[brine]\nkind = "brine"\nuse = "60 %"\npickup = "8 %"\n{immersed}'
    '[[brine.ingredient]]\nname = "water"\namount = "4 kg"\n'
    '[[brine.ingredient]]\nname = "salt"\namount = "200 g"\n'
)
SOAKED = BRINE.format(immersed='immersed = "4 h"\n')
PUMPED = BRINE.format(immersed="")


def prep(cut: str, what: str, gap: str, more: str = "") -> str:
    """One step of a cut."""
    return f'[[{cut}.prep]]\nwhat = "{what}"\ngap = {gap}\n{more}'


def said(house_with, **changed) -> list[str]:
    """What is doubtful of the small house so changed."""
    return [str(doubt) for doubt in safety_doubts(read_house(house_with(**changed)))]


def test_a_sound_house_raises_no_doubt(house_with):
    """Nothing to ask."""
    assert every_doubt(read_house(house_with()), DAY) == []


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        (
            {"cuts__toml": prep("brisket", "inject", '["1 h", "8 h"]')},
            "cuts.toml, brisket.handling: brisket is written as intact-roast, but with the step inject it is"
            ' cooked as injected; write handling = "injected"',
        ),
        (
            {
                "recipes__toml": PUMPED,
                "cuts__toml": prep("brisket", "season", '["1 h", "8 h"]', 'recipe = "brine"'),
            },
            "with brine pumped in it is cooked as injected",
        ),
        (
            {"items__toml": HALF, "cuts__toml": '[chicken-half]\npull = "70 C"'},
            "chicken-half.pull: pulled at 70 °C, while poultry is cooked at 74 °C: no rest or hold here "
            "surely does that; pull at 74 °C",
        ),
        (
            {"items__toml": HAM, "recipes__toml": CURE, "cuts__toml": INJECTED},
            "cuts.toml, ham-bone-in.pull: pulled at 60 °C, while meat that is cured in the house",
        ),
        (
            {
                "items__toml": LOIN,
                "cuts__toml": '[pork-loin]\npull = "56 C"',
                "holds__toml": '[bench]\narea = "1 m2"',
            },
            "pulled at 56 °C, while a whole roast in a pit too cool for the roast chart is cooked after 15 s",
        ),
        (
            {"holds__toml": '[box]\narea = "1 m2"\nsetpoint = "50 C"'},
            "box.setpoint: holds at 50 °C, while hot meat is kept at 57 °C or above (United States)",
        ),
        (
            {"cuts__toml": prep("brisket", "temper", '["1 h", "6 h"]')},
            "raw meat may wait 6 h out of the cooler; at most 4 h",
        ),
        (
            {
                "cuts__toml": prep("brisket", "trim", '["0 min", "150 min"]', "chilled = false\n")
                + prep("brisket", "temper", '["1 h", "150 min"]')
            },
            "cuts.toml, brisket.prep, trim and temper: raw meat may wait 5 h out of the cooler",
        ),
        (
            {"items__toml": TURKEY, "cuts__toml": prep("turkey-whole", "thaw", '["24 h", "96 h"]')},
            "thaw: may go on after 24 h, while a piece of 6.5 kg thaws in the cooler in 2 days",
        ),
        (
            {
                "items__toml": HALF,
                "recipes__toml": SOAKED,
                "cuts__toml": prep("chicken-half", "brine", '["4 h", "3 days"]', 'recipe = "brine"'),
            },
            "may stay in the brine 3 days; without nitrite, poultry is kept in one 2 days at most",
        ),
        (
            {
                "recipes__toml": SOAKED,
                "cuts__toml": prep("brisket", "brine", '["4 h", "6 days"]', 'recipe = "brine"'),
            },
            "may stay in the brine 6 days; without nitrite, red meat is kept in one 5 days at most",
        ),
    ],
)
def test_each_doubt_is_one_sentence_that_says_where(house_with, changed, told):
    """Where it stands, what is doubtful, and why."""
    lines = said(house_with, **changed)
    assert any(told in line for line in lines), lines
    assert all("\n" not in line for line in lines)


@pytest.mark.parametrize(
    "changed",
    [
        {"items__toml": LOIN, "cuts__toml": '[pork-loin]\npull = "63 C"'},
        {"items__toml": TURKEY, "cuts__toml": prep("turkey-whole", "thaw", '["72 h", "96 h"]')},
        {
            "recipes__toml": SOAKED,
            "cuts__toml": prep("brisket", "brine", '["4 h", "5 days"]', 'recipe = "brine"'),
        },
        {"cuts__toml": prep("brisket", "temper", '["1 h", "4 h"]')},
        {"holds__toml": '[bench]\narea = "1 m2"\n[box]\narea = "1 m2"\nsetpoint = "57 C"\n'},
    ],
)
def test_at_the_limit_there_is_no_doubt(house_with, changed):
    """What is just allowed raises nothing."""
    assert said(house_with, **changed) == []


def test_a_hold_that_cooks_the_roast_is_enough(house_with):
    """A rib roast of 8 kg pulled at 55 °C is cooked by hours at 63 °C; at 52 °C no bench does it."""
    rib = '[sliced]\ncut = "beef-rib-roast"\nportion = "250 g"\nprice = 30'
    assert said(house_with, items__toml=rib) == []
    bare = said(
        house_with,
        items__toml=rib,
        holds__toml='[bench]\narea = "1 m2"',
        cuts__toml='[beef-rib-roast]\npull = "52 C"',
    )
    assert any("pulled at 52 °C" in line for line in bare)


def test_another_places_limits_count_there_and_what_its_table_lacks_is_said(house_with):
    """The United Kingdom holds hot food at 63 °C; what its table does not print is named."""
    lines = said(
        house_with,
        house__toml='name = "Test House"\nzone = "Europe/London"\njurisdiction = "uk"\n',
        holds__toml='[bench]\narea = "1 m2"\n[box]\narea = "1 m2"\nsetpoint = "60 C"\n',
    )
    assert any(
        "holds at 60 °C, while hot meat is kept at 63 °C or above (United Kingdom)" in x for x in lines
    )
    assert any("house.toml, jurisdiction: the table of United Kingdom prints no figure" in x for x in lines)


def test_the_house_with_all_well_is_silent_whatever_its_pits_are_called(house_with):
    """Names of pits and cuts do not matter to the check."""
    house = read_house(house_with())
    renamed = replace(house, pits={"p": replace(house.pits["north"], id="p")})
    assert safety_doubts(renamed) == []
