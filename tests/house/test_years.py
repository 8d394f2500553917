"""Dates a house may tell, and the day a person means."""

from datetime import date, timedelta

import pytest

from board.cli import run
from board.errors import BoardError, HouseFileError
from board.house.calendar import check_rule
from board.house.files import read_house
from board.house.years import day_meant

TODAY = date(2026, 12, 18)


def test_a_day_is_a_date_or_a_word():
    """The words are yesterday, today and tomorrow, in any case and with blanks around."""
    assert day_meant("2026-12-19", TODAY) == day_meant(" Tomorrow ", TODAY) == date(2026, 12, 19)
    assert day_meant("today", TODAY) == TODAY
    assert day_meant("yesterday", TODAY) == TODAY - timedelta(days=1)


@pytest.mark.parametrize(
    "typed", ["", "soon", "2026-02-30", "1969-12-31", "2200-01-01", "9999-12-31", "0001-01-01"]
)
def test_any_other_day_is_told_with_what_is_allowed(typed):
    """No date outside the years a house knows gets as far as a sum of dates."""
    with pytest.raises(BoardError, match="from 1970 to 2199, yesterday, today or tomorrow"):
        day_meant(typed, TODAY)


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31", "9999-12-20"])
@pytest.mark.parametrize("typed", [["house", "check"], ["plan"]])
def test_commands_refuse_a_day_beyond_the_calendar(house_with, typed, day, capsys):
    """A day that no plan can be for is bad input in one line."""
    assert run([*typed, str(house_with()), "--day", day]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert f"found '{day}'" in err


@pytest.mark.parametrize(
    ("file", "text", "told"),
    [
        (
            "orders.csv",
            "order,name,collect,item,portions\na,Ann,9999-12-31T23:59,sliced,2\n",
            "orders.csv, line 2, collect: found '9999-12-31T23:59'",
        ),
        (
            "orders.csv",
            "order,name,collect,item,portions\na,Ann,2026-12-19,sliced,2\n",
            "orders.csv, line 2, collect: found '2026-12-19', allowed a date and time",
        ),
        ("sales.csv", "day,service,item,sold\n0001-01-01,lunch,sliced,3\n", "sales.csv, line 2, day: found"),
        (
            "services.toml",
            '[lunch]\nat = "11:00"\nlasts = "3 h"\nrule = "FREQ=DAILY"\nfirst = 0001-01-01\n',
            "services.toml, lunch.first: found 0001-01-01",
        ),
        (
            "holds.toml",
            '[box]\narea = "1 m2"\nsetpoint = "1000 C"\n',
            "holds.toml, box.setpoint: found '1000 C'",
        ),
        (
            "pits.toml",
            '[north]\nkind = "offset"\narea = "2 m2"\nhumidity = [0, 0, 0]\n',
            "pits.toml, north.humidity: found [0, 0, 0]",
        ),
        (
            "pits.toml",
            '[north]\nkind = "offset"\narea = "2 m2"\nwarm_up = "99999999999 min"\n',
            "pits.toml, north.warm_up: found '99999999999 min'",
        ),
        (
            "pits.toml",
            '[north]\nkind = "offset"\narea = "999999 x 999999 m"\n',
            "pits.toml, north.area: found '999999 x 999999 m'",
        ),
    ],
)
def test_what_no_house_has_is_told_in_one_line(house_with, file, text, told):
    """Dates, temperatures, times and sizes beyond any house are refused where they are written."""
    with pytest.raises(HouseFileError) as error:
        read_house(house_with(**{file.replace(".", "__"): text}))
    assert told in str(error.value)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize(
    "rule",
    ["FREQ=DAILY;INTERVAL=0", "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "FREQ=YEARLY;COUNT=2;BYWEEKNO=54"],
)
def test_a_rule_of_no_day_at_all_is_refused(rule):
    """A rule that stands still or never falls would be counted for ever."""
    with pytest.raises(ValueError, match="rule"):
        check_rule(rule)


def test_a_link_to_nowhere_is_told(house_with):
    """Orders on a disk that is not there are no reason to plan without them."""
    folder = house_with()
    (folder / "orders.csv").symlink_to(folder / "nowhere.csv")
    with pytest.raises(HouseFileError, match=r"orders\.csv: cannot be read"):
        read_house(folder)
