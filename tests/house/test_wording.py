"""Times, days and counts in words."""

from datetime import UTC, date, datetime
from types import SimpleNamespace

import pytest

from board.house import wording
from board.house.model import Display


def house(hours=24):
    """Just enough of a house to word a time for."""
    return SimpleNamespace(zone="America/Chicago", display=Display(clock_hours=hours))


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 min"),
        (-0.2, "0 min"),
        (45, "45 min"),
        (59.7, "1 h"),
        (80, "1 h 20"),
        (65, "1 h 05"),
        (-35, "-35 min"),
        (600, "10 h"),
        (1800, "30 h"),
        (2880, "2 days"),
        (4560, "3 days 4 h"),
    ],
)
def test_a_length_of_time_is_worded(minutes, words):
    """Minutes, hours and days as they are said."""
    assert wording.duration(minutes) == words


def test_the_clock_is_the_house_s():
    """A moment shows as the wall clock of the house, in its 24 or 12 hours."""
    moment = datetime(2026, 12, 19, 13, 50, tzinfo=UTC)
    assert wording.clock_time(moment, house()) == "07:50"
    assert wording.clock_time(moment, house(12)) == "7:50 am"
    assert wording.clock_time(datetime(2026, 12, 19, 6, 5, tzinfo=UTC), house(12)) == "12:05 am"
    assert wording.clock_time(datetime(2026, 12, 19, 18, 5, tzinfo=UTC), house(12)) == "12:05 pm"


def test_days_are_named_without_the_machine_s_language():
    """English names, whatever the locale."""
    assert wording.day_name(date(2026, 12, 19)) == "Saturday 19 December"
    assert wording.short_day(date(2026, 12, 8)) == "Tue 8 Dec"


@pytest.mark.parametrize(
    ("number", "name", "words"),
    [
        (12, "brisket", "12 briskets"),
        (1, "brisket", "1 brisket"),
        (18, "chicken half", "18 chicken halves"),
        (6, "spare ribs", "6 spare ribs"),
        (3, "turkey breast", "3 turkey breasts"),
        (4, "ham, bone in", "4 hams, bone in"),
        (0, "sausage", "0 sausages"),
        (2, "batch", "2 batches"),
    ],
)
def test_pieces_are_counted(number, name, words):
    """The plural a cook would say."""
    assert wording.count(number, name) == words


def test_words_are_joined_as_in_a_sentence():
    """Commas, and an and before the last."""
    assert wording.in_list(["brisket", "ribs", "ham"]) == "brisket, ribs and ham"
    assert wording.in_list(["ham"]) == "ham"
    assert wording.in_list([]) == ""


def test_of_many_names_the_nearest_are_told():
    """A mistyped load is answered with the few it may have been, and how many more there are."""
    known = [f"1219-{cut}-{n}" for cut in ("brisket", "ham", "pork-shoulder") for n in (1, 2, 3)]
    told = wording.nearest("1219-briskt-2", known, most=3)
    assert told == "1219-brisket-2, 1219-brisket-3, 1219-brisket-1, and 6 more"
    assert wording.nearest("x", known[:2]) == "1219-brisket-1 and 1219-brisket-2"
    assert wording.nearest("x", []) == "none"
