"""The keys of the house files that only a plan asks for: zones, doors, breaks, waves, weights."""

from datetime import time

import pytest

from board.errors import HouseFileError
from board.house.files import read_house
from board.house.library import library_cut, pit_prior
from board.house.model import Break, PitKind, Zone

NORTH = '[north]\nkind = "offset"\n'
TOP = '[[north.zone]]\nid = "top"\narea = "0.8 m2"\nlevel = 1\nwarmer = "9 F"\n'
LOW = '[[north.zone]]\nid = "low"\nname = "fire end"\narea = "1.2 m2"\nwarmer = "-4 C"\n'
HOUSE = 'name = "H"\nzone = "UTC"\n'
BIRD = '[bird]\ncut = "chicken-half"\nportions_a_piece = 1\n'
LUNCH = '[lunch]\nat = "11:00"\nlasts = "3 h"\nrule = "FREQ=DAILY"\npromises = { sliced = 4 }\n'
SHIFT = '[people.ann]\n[shifts.day]\npeople = ["ann"]\nat = "06:00"\nlasts = "9 h"\nrule = "FREQ=DAILY"\n'


def test_zones_make_up_a_pit(house_with):
    """Each has its area, its level and how much warmer it is; the pit's area may be left out."""
    pit = read_house(house_with(pits__toml=NORTH + TOP + LOW)).pits["north"]
    assert pit.area_m2 == pytest.approx(2.0)
    assert pit.zones == (
        Zone("top", "top", 0.8, pytest.approx(5.0), 1),
        Zone("low", "fire end", 1.2, pytest.approx(-4.0), 0),
    )


def test_a_pit_s_area_may_be_rounded(house_with):
    """1.99 m² on the plate of a pit is the two square metres of its zones."""
    pit = read_house(house_with(pits__toml=NORTH + 'area = "1.99 m2"\n' + TOP + LOW)).pits["north"]
    assert pit.area_m2 == pytest.approx(2.0)


def test_what_a_door_and_another_setpoint_cost_comes_from_the_kind(house_with):
    """A pit says what it knows better; a closed cabinet loses more by an opening than coals under a lid."""
    pits = (
        NORTH
        + 'area = "2 m2"\ndoor = "5 min"\nchange_over = "40 min"\n[box]\nkind = "cabinet"\narea = "1 m2"\n'
    )
    house = read_house(house_with(pits__toml=pits))
    assert (house.pits["north"].door_minutes, house.pits["north"].change_over_minutes) == (5.0, 40.0)
    assert house.pits["box"].door_minutes == pit_prior(PitKind.CABINET).door_minutes
    assert house.pits["box"].change_over_minutes == pit_prior(PitKind.CABINET).change_over_minutes
    assert pit_prior(PitKind.CABINET).door_minutes > pit_prior(PitKind.DIRECT).door_minutes


def test_a_wrapped_piece_may_ask_for_another_setpoint(house_with):
    """The end of the cut's range, written in the other scale, is still within it."""
    text = '[brisket]\npit = ["225 F", "245 F", "275 F"]\nwrap = { at = "160 F", then = "135 C" }\n'
    assert read_house(house_with(cuts__toml=text)).cuts["brisket"].wrap.then_c == pytest.approx(135.0)
    plain = read_house(house_with(cuts__toml='[brisket]\nwrap = { at = "165 F" }\n')).cuts["brisket"]
    assert plain.wrap.then_c is None
    assert library_cut("brisket").wrap.then_c is None


def test_a_shift_has_its_breaks_in_order(house_with):
    """The last one may end with the shift."""
    text = SHIFT + 'breaks = [{ after = "4 h", lasts = "30 min" }, { after = "8 h 30", lasts = "30 min" }]\n'
    (shift,) = read_house(house_with(crew__toml=text)).shifts
    assert shift.breaks == (Break(240.0, 30.0), Break(510.0, 30.0))


def test_portions_come_in_waves(house_with):
    """An item says how often; a service may say when, past midnight too."""
    items = '[sliced]\ncut = "brisket"\nportion = "170 g"\n' + BIRD + 'fresh_every = "1 h"\n'
    late = LUNCH.replace("11:00", "22:30") + 'fresh = { sliced = ["22:30", "23:45", "00:15"] }\n'
    house = read_house(house_with(items__toml=items, services__toml=late))
    assert house.items["bird"].fresh_minutes == 60.0
    assert house.items["sliced"].fresh_minutes is None
    assert house.services["lunch"].fresh == {"sliced": (time(22, 30), time(23, 45), time(0, 15))}


def test_a_house_weighs_what_it_likes(house_with):
    """What it says is kept in its own money; what it leaves out is not there."""
    house = read_house(house_with(house__toml=HOUSE + "[weigh]\nlost_portion = 60\nheld_hour = 0.5\n"))
    assert house.weighing == {"lost_portion": 60.0, "held_hour": 0.5}
    assert read_house(house_with(house__toml=HOUSE)).weighing == {}


BREAKS = SHIFT + "breaks = "
FRESH = LUNCH + "fresh = "
WRAP = '[brisket]\npit = ["225 F", "245 F", "275 F"]\nwrap = '


@pytest.mark.parametrize(
    ("file", "text", "told"),
    [
        (
            "pits",
            NORTH + 'area = "2.2 m2"\n' + TOP + LOW,
            "north.area: found '2.2 m2', allowed what its zones",
        ),
        ("pits", NORTH + TOP + TOP, "north.zone[2].id: found 'top', allowed an id that no other zone"),
        (
            "pits",
            NORTH + TOP + '[[north.zone]]\nid = "Low End"\n',
            "zone[2].id: found 'Low End', allowed an id",
        ),
        ("pits", NORTH + '[[north.zone]]\narea = "1 m2"\n', "zone[1].id: found nothing"),
        ("pits", NORTH + '[[north.zone]]\nid = "top"\n', "zone[1].area: found nothing, allowed an area"),
        ("pits", NORTH + TOP.replace("9 F", "9"), "zone[1].warmer: found '9', allowed a difference of"),
        ("pits", NORTH + TOP.replace("9 F", "200 F"), "zone[1].warmer: found '200 F', allowed up to 60 K"),
        ("pits", NORTH + TOP.replace("level = 1", "level = -1"), "zone[1].level: found -1, allowed a whole"),
        (
            "pits",
            NORTH + TOP.replace("level", "lvel"),
            "zone[1].lvel: found an unknown key, did you mean level?",
        ),
        ("pits", NORTH + "zone = 3\n", "north.zone: found 3, allowed a list of tables"),
        (
            "pits",
            NORTH + 'area = "2 m2"\ndoor = "2 h"\n',
            "north.door: found '2 h', allowed a time up to 60 min",
        ),
        ("pits", NORTH + 'area = "2 m2"\ndoor = 4\n', "north.door: found 4, allowed a length of time"),
        (
            "pits",
            NORTH + 'area = "2 m2"\nchange_over = "2 days"\n',
            "north.change_over: found '2 days', allowed",
        ),
        (
            "pits",
            NORTH + 'area = "2 m2"\nchange_over = 20\n',
            "north.change_over: found 20, allowed a length",
        ),
        ("cuts", WRAP + '{ then = "300 F" }', "brisket.wrap.then: found '300 F', allowed a setpoint within"),
        ("cuts", WRAP + '{ then = "275" }', "brisket.wrap.then: found '275', allowed a temperature"),
        (
            "crew",
            BREAKS + '[{ after = "8 h 45", lasts = "30 min" }]',
            "breaks[1].after: found '8 h 45', allowed",
        ),
        (
            "crew",
            BREAKS + '[{ after = "4 h", lasts = "1 h" }, { after = "4 h 30", lasts = "20 min" }]',
            "breaks[2].after: found '4 h 30', allowed a time after the break before it has ended",
        ),
        ("crew", BREAKS + '[{ after = "4 h" }]', "breaks[1].lasts: found nothing, allowed a length of time"),
        (
            "crew",
            BREAKS + '[{ lasts = "20 min" }]',
            "breaks[1].after: found nothing, allowed a length of time",
        ),
        ("crew", BREAKS + '[{ after = "4 h", lasts = "0 min" }]', "breaks[1].lasts: found '0 min', allowed"),
        ("crew", BREAKS + '"noon"', "shifts.day.breaks: found 'noon', allowed a list of tables"),
        (
            "items",
            '[sliced]\ncut = "brisket"\nportion = "6 oz"\nfresh_every = "5 min"',
            "sliced.fresh_every: found",
        ),
        (
            "items",
            '[sliced]\ncut = "brisket"\nportion = "6 oz"\nfresh_every = 60',
            "sliced.fresh_every: found 60",
        ),
        (
            "services",
            FRESH + '{ ribs = ["11:00"] }',
            "lunch.fresh: found 'ribs', allowed an item promised here",
        ),
        ("services", FRESH + '{ sliced = ["12:00", "11:30"] }', "lunch.fresh.sliced: found"),
        ("services", FRESH + '{ sliced = ["11:00", "14:00"] }', "in order, within the service"),
        ("services", FRESH + "{ sliced = [] }", "in order, within the service"),
        (
            "services",
            FRESH + '{ sliced = "12:00" }',
            "lunch.fresh.sliced: found '12:00', allowed times of day",
        ),
        ("house", HOUSE + "[weigh]\nlost = 3\n", "house.toml, weigh.lost: found an unknown key"),
        (
            "house",
            HOUSE + "[weigh]\nlate_minute = -1\n",
            "weigh.late_minute: found -1, allowed a number from 0",
        ),
        ("house", HOUSE + "[weigh]\nlost_portion = 0\n", "weigh.lost_portion: found 0, allowed more than 0"),
        ("house", HOUSE + '[weigh]\nlighting = "4"\n', "weigh.lighting: found '4', allowed a number from 0"),
        ("house", HOUSE + "weigh = 3\n", "house.toml, weigh: found 3, allowed a table of keys"),
    ],
)
def test_what_is_wrong_is_told_in_one_line(house_with, file, text, told):
    """The file, the key, what was found and what is allowed."""
    with pytest.raises(HouseFileError) as caught:
        read_house(house_with(**{f"{file}__toml": text}))
    assert str(caught.value).startswith(f"{file}.toml")
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)
