"""Containers and the making of a brine in the house files."""

from datetime import date

import pytest

from board.errors import HouseFileError
from board.house.check import doubts
from board.house.files import read_house
from board.house.model import ChillWay

POT = '[pot]\nvolume = "20 L"\n'
BRINE = """
[brine]
kind = "brine"
use = "60 %"
keeps = "2 days"
{}
[[brine.ingredient]]
name = "water"
amount = "10 kg"
[[brine.ingredient]]
name = "salt"
amount = "5 % of water"
"""


def house(house_with, recipe: str, containers: str = POT):
    """A house with the brine so made."""
    return read_house(house_with(recipes__toml=BRINE.format(recipe), containers__toml=containers))


def test_ready_follows_from_boiling_and_chilling(house_with):
    """18 kg in an ice bath at 38 W/K: 10 min of boiling, 31.7 min times ln(95/4) of cooling."""
    found = house(house_with, 'boil = "10 min"\nchill = "ice-bath"\nvessel = "pot"').recipes["brine"]
    assert found.chill is ChillWay.ICE_BATH
    assert found.ready_after_minutes == 111.0


def test_ice_needs_no_vessel_and_a_stated_time_goes_before(house_with):
    """Ice in the water is quick in any pot; `ready_after` is the house's own word."""
    iced = house(house_with, 'boil = "10 min"\nchill = "ice"').recipes["brine"]
    assert iced.ready_after_minutes == 25.0
    said = house(house_with, 'boil = "10 min"\nchill = "ice-bath"\nready_after = "5 h"').recipes["brine"]
    assert said.ready_after_minutes == 300.0


def test_a_container_states_or_reads_what_it_loses(house_with):
    """Two readings, 57 to 21 °C in 5.08 h of 3 °C air, give the 5 W/K of the reference's pot."""
    stated = POT + 'takes = "20.7 kg"\n' + "loses = { ice-bath = 60 }\n"
    read = '[[pot.cooled]]\nin = "walk-in"\nmass = "20.7 kg"\nfrom = "57 C"\nto = "21 C"\ntook = "305 min"\n'
    pot = house(house_with, "", stated + read).containers["pot"]
    assert pot.ua_w_k[ChillWay.ICE_BATH] == 60.0
    assert pot.ua_w_k[ChillWay.WALK_IN] == pytest.approx(5.0, rel=0.01)
    assert (pot.takes_kg, pot.count, pot.space_kg) == (20.7, 1, None)


@pytest.mark.parametrize(
    ("recipe", "containers", "words"),
    [
        ('boil = "10 min"', POT, "brine.chill: found nothing, allowed how it is cooled"),
        ('chill = "ice"', POT, "brine.chill: found 'ice', allowed a boil before it"),
        (
            'boil = "1 min"\nchill = "fan"',
            POT,
            "brine.chill: found 'fan', allowed one of ice, ice-bath, walk-in",
        ),
        ('boil = "1 min"\nchill = "walk-in"', POT, "brine.ready_after: found nothing"),
        ('boil = "1 min"\nchill = "walk-in"\nvessel = "pot"\nchilled_to = "3 C"', POT, "brine.chilled_to"),
        (
            'boil = "1 min"\nchill = "walk-in"\nvessel = "pot"',
            '[pot]\nvolume = "400 L"\n',
            "keeps at least until it is ready",
        ),
        ('container = "vat"', POT, "brine.container: found 'vat', allowed one of: pot"),
        ("", '[pot]\nvolume = "20 kg"\n', "containers.toml, pot.volume"),
        ("", POT + "count = 0\n", "containers.toml, pot.count: found 0"),
        ("", POT + "loses = { ice-bath = 0 }\n", "pot.loses.ice-bath"),
        (
            "",
            POT + '[[pot.cooled]]\nin = "walk-in"\nmass = "9 kg"\nfrom = "57 C"\nto = "1 C"\ntook = "5 h"\n',
            "to",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(house_with, recipe, containers, words):
    """File, key, what was found and what is allowed."""
    with pytest.raises(HouseFileError) as told:
        house(house_with, recipe, containers)
    assert words in str(told.value)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize(
    ("recipe", "containers", "words"),
    [
        ('boil = "10 min"\nchill = "ice-bath"\nvessel = "pot"\nready_after = "1 h"', POT, "takes 1 h 50"),
        ('immersed = "8 h"\ncontainer = "pot"', '[pot]\nvolume = "5 L"\n', "less than one brisket"),
    ],
)
def test_what_does_not_go_together_is_doubted(house_with, recipe, containers, words):
    """A time too short for a full pot, a pot too small for one piece in its brine."""
    cuts = '[brisket]\n[[brisket.prep]]\nwhat = "brine"\nrecipe = "brine"\ngap = ["8 h", "9 h"]\n'
    text = BRINE.format(recipe)
    found = read_house(house_with(recipes__toml=text, containers__toml=containers, cuts__toml=cuts))
    assert any(words in str(doubt) for doubt in doubts(found, date(2026, 12, 14))), words


def test_a_brine_by_volume_takes_room_beside_its_meat_too(house_with):
    """A brisket of 6.35 kg with 0.6 L a kilogram round it is more than the 7.2 kg that 8 L take."""
    text = BRINE.format('immersed = "8 h"\ncontainer = "pot"').replace('use = "60 %"', 'use = "0.6 L/kg"')
    assert "L/kg" in text
    cuts = '[brisket]\n[[brisket.prep]]\nwhat = "brine"\nrecipe = "brine"\ngap = ["8 h", "9 h"]\n'
    pot = '[pot]\nvolume = "8 L"\n'
    found = read_house(house_with(recipes__toml=text, containers__toml=pot, cuts__toml=cuts))
    assert any("less than one brisket" in str(doubt) for doubt in doubts(found, date(2026, 12, 14)))


def test_a_brine_that_nobody_may_chill_is_doubted(house_with):
    """Everyone's work is listed and neither chilling nor reading is in it."""
    crew = '[people.ann]\ncan = ["make", "load", "check"]\n'
    text = BRINE.format('boil = "10 min"\nchill = "ice"')
    found = read_house(house_with(recipes__toml=text, crew__toml=crew))
    assert any("nobody does chill, which brine asks for" in str(d) for d in doubts(found, date(2026, 12, 14)))
