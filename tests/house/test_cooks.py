"""Past cooks as a house writes them down."""

from datetime import date

import pytest

from board.errors import HouseFileError
from board.house.check import doubts
from board.house.files import read_house
from board.house.library import library_cut
from board.house.model import WrapMaterial

HEADING = "day,cut,pieces,mass,pit,setpoint,took,core,start,wrap,wrap_at,first,air\n"
PLAIN = "2026-11-21,brisket,6,14 lb,north,245 F,12 h 20,203 F,38 F,foil,6 h 30,11 h,238 F\n"


def test_a_past_cook_is_read_with_its_units(house_with):
    """Masses, temperatures and times come in any unit, and the oldest cook comes first."""
    text = HEADING + PLAIN + "2026-11-20,pork-shoulder,,4 kg,north,120 C,9 h,,,,,,\n"
    older, cook = read_house(house_with(cooks__csv=text)).cooks
    assert older.day == date(2026, 11, 20)
    assert (cook.cut, cook.pit, cook.pieces, cook.wrap) == ("brisket", "north", 6, WrapMaterial.FOIL)
    assert cook.mass_kg == pytest.approx(6.350, abs=0.001)
    assert (cook.setpoint_c, cook.core_c, cook.air_c) == pytest.approx((118.33, 95.0, 114.44), abs=0.01)
    assert (cook.minutes, cook.wrap_minute, cook.first_minutes) == (740.0, 390.0, 660.0)
    assert cook.wrap_core_c is None


def test_what_a_past_cook_leaves_out_is_the_cut_s_usual(house_with):
    """One piece, pulled, started and wrapped as the house does with that cut."""
    text = "day;cut;mass;pit;setpoint;took\n2026-11-21;brisket;6 kg;north;120 C;11 h\n"
    (cook,) = read_house(house_with(cooks__csv=text)).cooks
    cut = library_cut("brisket")
    assert (cook.pieces, cook.core_c, cook.start_c) == (1, None, cut.start_c)
    assert cut.wrap is not None
    assert (cook.wrap, cook.wrap_core_c, cook.wrap_minute) == (cut.wrap.material, cut.wrap.at_core_c, None)
    assert (cook.first_minutes, cook.air_c) == (None, None)


def test_none_is_a_wrap_that_was_left_off(house_with):
    """A brisket cooked bare for once is told by a word, not by an empty cell."""
    text = "day,cut,mass,pit,setpoint,took,wrap\n2026-11-21,brisket,6 kg,north,120 C,15 h,none\n"
    (cook,) = read_house(house_with(cooks__csv=text)).cooks
    assert (cook.wrap, cook.wrap_core_c, cook.wrap_minute) == (None, None, None)


@pytest.mark.parametrize(
    ("column", "cell", "told"),
    [
        ("cut", "hash", "cooks.csv, line 2, cut: found 'hash', allowed one of"),
        ("pit", "south", "pit: found 'south', allowed one of north"),
        ("pieces", "0", "pieces: found '0', allowed a whole number above nought"),
        ("mass", "14", "mass: found '14', allowed the mass of one piece such as 14 lb"),
        ("setpoint", "1200 F", "setpoint: found '1200 F', allowed a temperature such as 200 F, from 30 C"),
        ("took", "9 days", "took: found '9 days', allowed a time such as 13 h 20, from 10 min to 7 days"),
        ("took", "1 min", "took: found '1 min', allowed a time such as 13 h 20, from 10 min to 7 days"),
        ("wrap_at", "13 h", "wrap_at: found '13 h', allowed a time shorter than the cook took"),
        ("wrap_at", "205 F", "wrap_at: found '205 F', allowed a core below the one it came off at"),
        ("pieces", "1", "first: found '11 h', allowed nothing where one piece went on"),
        ("core", "", None),
        ("wrap", "cling", "wrap: found 'cling', allowed one of paper, foil, none"),
        ("wrap_at", "soon", "wrap_at: found 'soon', allowed a core such as 160 F or a time"),
        ("first", "13 h", "first: found '13 h', allowed a time no longer than the last piece took"),
    ],
)
def test_what_is_wrong_in_a_past_cook_is_told_in_one_line(house_with, column, cell, told):
    """The file, the line, the column, what was found and what is allowed."""
    cells = PLAIN.strip().split(",")
    cells[HEADING.strip().split(",").index(column)] = cell
    folder = house_with(cooks__csv=HEADING + ",".join(cells) + "\n")
    if told is None:
        assert len(read_house(folder).cooks) == 1
        return
    with pytest.raises(HouseFileError) as caught:
        read_house(folder)
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)


def test_the_check_asks_about_cooks_to_come_and_cooks_told_twice(house_with):
    """A date years after the day of the check and a line pasted twice would both be learned from."""
    text = HEADING + PLAIN + PLAIN + PLAIN.replace("2026-11-21", "2126-11-21")
    told = [str(doubt) for doubt in doubts(read_house(house_with(cooks__csv=text)), date(2026, 12, 1))]
    assert (
        "cooks.csv, day: 1 cook dated a year or more after 2026-12-01, the last on 2126-11-21 (brisket)"
        in told
    )
    assert (
        "cooks.csv: brisket on north of 2026-11-21 stands there 2 times to the minute; each is learned from"
        in told
    )
