"""Repeating times, and nights on which the clock changes."""

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import HouseFileError
from board.house import calendar
from board.house.model import Display, House, Person, Recurrence, Service, Shift

CHICAGO = "America/Chicago"
NEW_YORK = "America/New_York"


def dates(rule, first, last):
    """The dates a rule gives from its first date to `last`."""
    return calendar.days(Recurrence(first, time(9), 60, rule), first, last)


def test_daily_for_ten_occurrences():
    """RFC 5545 section 3.8.5.3, 'Daily for 10 occurrences': 2 to 11 September 1997."""
    found = dates("FREQ=DAILY;COUNT=10", date(1997, 9, 2), date(1998, 1, 1))
    assert found == [date(1997, 9, d) for d in range(2, 12)]


def test_every_ten_days_for_five_occurrences():
    """RFC 5545 section 3.8.5.3, 'Every 10 days, 5 occurrences': 2, 12, 22 September, 2, 12 October 1997."""
    found = dates("FREQ=DAILY;INTERVAL=10;COUNT=5", date(1997, 9, 2), date(1998, 1, 1))
    assert found == [date(1997, 9, d) for d in (2, 12, 22)] + [date(1997, 10, d) for d in (2, 12)]


def test_weekly_on_tuesday_and_thursday_for_five_weeks():
    """RFC 5545 section 3.8.5.3, 'Weekly on Tuesday and Thursday for five weeks'."""
    rule = "FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH"
    found = dates(rule, date(1997, 9, 2), date(1998, 1, 1))
    assert found[:5] == [date(1997, 9, d) for d in (2, 4, 9, 11, 16)]
    assert found[5:9] == [date(1997, 9, d) for d in (18, 23, 25, 30)]
    assert found[9] == date(1997, 10, 2)


def test_every_other_week_on_monday_wednesday_and_friday():
    """RFC 5545 section 3.8.5.3, 'Every other week on Monday, Wednesday, and Friday until ...'."""
    rule = "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR"
    found = dates(rule, date(1997, 9, 1), date(1998, 1, 1))
    assert found[:8] == [date(1997, 9, d) for d in (1, 3, 5, 15, 17, 19, 29)] + [date(1997, 10, 1)]


def test_every_thursday_in_march():
    """RFC 5545 section 3.8.5.3, 'Every Thursday in March, forever'."""
    found = dates("FREQ=YEARLY;BYMONTH=3;BYDAY=TH", date(1997, 3, 13), date(1998, 3, 31))
    assert found == [date(1997, 3, d) for d in (13, 20, 27)] + [date(1998, 3, d) for d in (5, 12, 19, 26)]


def test_monthly_on_the_first_friday():
    """RFC 5545 section 3.8.5.3, 'Monthly on the first Friday for 10 occurrences'."""
    found = dates("FREQ=MONTHLY;COUNT=10;BYDAY=1FR", date(1997, 9, 5), date(1999, 1, 1))
    assert found[:4] == [date(1997, 9, 5), date(1997, 10, 3), date(1997, 11, 7), date(1997, 12, 5)]
    assert len(found) == 10


def test_an_overnight_shift_loses_no_minute_when_the_clocks_go_forward():
    """22:00 for 8 h over 8 March 2026 in Chicago ends at 07:00 on the wall, 8 h later in truth."""
    shift = Recurrence(date(2026, 3, 7), time(22), 480)
    ((start, end),) = calendar.occurrences(
        shift, CHICAGO, datetime(2026, 3, 7, tzinfo=UTC), datetime(2026, 3, 9, tzinfo=UTC)
    )
    assert start == datetime(2026, 3, 8, 4, tzinfo=UTC)  # CST, UTC-6
    assert end - start == timedelta(hours=8)
    assert end == calendar.at_time(date(2026, 3, 8), time(7), CHICAGO)


def test_an_overnight_shift_gains_no_minute_when_the_clocks_go_back():
    """22:00 for 8 h over 1 November 2026 in Chicago ends at 05:00 on the wall, 8 h later in truth."""
    shift = Recurrence(date(2026, 10, 31), time(22), 480)
    ((start, end),) = calendar.occurrences(
        shift, CHICAGO, datetime(2026, 10, 31, tzinfo=UTC), datetime(2026, 11, 2, tzinfo=UTC)
    )
    assert start == datetime(2026, 11, 1, 3, tzinfo=UTC)  # CDT, UTC-5
    assert end == calendar.at_time(date(2026, 11, 1), time(5), CHICAGO)
    assert end - start == timedelta(hours=8)


def test_a_time_that_does_not_exist_is_read_with_the_offset_from_before_the_gap():
    """RFC 5545 section 3.3.5: 02:30 on 11 March 2007 in New York means 03:30 EDT (07:30 UTC)."""
    assert calendar.at_time(date(2007, 3, 11), time(2, 30), NEW_YORK) == datetime(
        2007, 3, 11, 7, 30, tzinfo=UTC
    )
    assert calendar.at_time(date(2026, 3, 8), time(2, 30), CHICAGO) == calendar.at_time(
        date(2026, 3, 8), time(3, 30), CHICAGO
    )


def test_a_time_that_comes_twice_is_the_first_of_the_two():
    """RFC 5545 section 3.3.5: 01:30 on 4 November 2007 in New York means 01:30 EDT (05:30 UTC)."""
    assert calendar.at_time(date(2007, 11, 4), time(1, 30), NEW_YORK) == datetime(
        2007, 11, 4, 5, 30, tzinfo=UTC
    )
    assert calendar.at_time(date(2026, 11, 1), time(1, 30), CHICAGO) == datetime(
        2026, 11, 1, 6, 30, tzinfo=UTC
    )


def test_days_of_a_clock_change_are_23_and_25_hours():
    """The bounds of a date are its own midnights."""
    lengths = [
        (b - a) / timedelta(hours=1)
        for a, b in (
            calendar.day_bounds(d, CHICAGO) for d in (date(2026, 3, 8), date(2026, 11, 1), date(2026, 6, 1))
        )
    ]
    assert lengths == [23, 25, 24]


def a_house(*services, shifts=()):
    """A house with only a calendar."""
    return House(
        id="h", name="H", zone=CHICAGO, altitude_m=0, chance=0.9, display=Display(), wage_per_hour=0,
        pits={}, holds={}, walk_in_kg=0, cuts={}, items={}, recipes={}, people={"ann": Person("ann", "Ann")},
        shifts=shifts, services={s.id: s for s in services},
    )  # fmt: skip


def test_a_service_after_midnight_belongs_to_its_local_date():
    """A 00:30 service on Sunday is Sunday's, though Saturday's crew cooks for it."""
    late = Service("late", "Late", Recurrence(date(2026, 12, 20), time(0, 30), 90), {"ribs": 10})
    house = a_house(late)
    assert calendar.services_on(house, date(2026, 12, 19)) == []
    (found,) = calendar.services_on(house, date(2026, 12, 20))
    assert (found.id, found.at, found.chance) == ("late", datetime(2026, 12, 20, 6, 30, tzinfo=UTC), 0.9)
    assert found.until - found.at == timedelta(minutes=90)


def test_services_come_in_order_of_time_with_their_own_chance():
    """Lunch before dinner, each at 11:00 and 17:00 on the wall all year round."""
    first = date(2026, 1, 1)
    dinner = Service("dinner", "Dinner", Recurrence(first, time(17), 240, "FREQ=DAILY"), {"ham": 3}, 0.8)
    lunch = Service("lunch", "Lunch", Recurrence(first, time(11), 240, "FREQ=DAILY"), {"ham": 3})
    for day, hour in ((date(2026, 7, 1), 16), (date(2026, 12, 1), 17)):
        found = calendar.services_on(a_house(dinner, lunch), day)
        assert [(s.id, s.chance) for s in found] == [("lunch", 0.9), ("dinner", 0.8)]
        assert found[0].at.hour == hour


def test_a_day_off_is_no_occasion():
    """A date under not_on is left out."""
    rec = Recurrence(date(2026, 12, 1), time(11), 60, "FREQ=DAILY", (date(2026, 12, 25),))
    assert date(2026, 12, 25) not in calendar.days(rec, date(2026, 12, 24), date(2026, 12, 26))


def test_a_shift_begun_yesterday_is_still_on():
    """on_shift finds whoever is at work, whenever their shift began."""
    night = Shift("night", "overnight", ("ann",), Recurrence(date(2026, 12, 1), time(21), 540, "FREQ=DAILY"))
    house = a_house(shifts=(night,))
    start = calendar.at_time(date(2026, 12, 19), time(5), CHICAGO)
    (found,) = calendar.on_shift(house, start, start + timedelta(minutes=30))
    assert (found[0], found[3]) == ("ann", "overnight")
    assert found[1] == calendar.at_time(date(2026, 12, 18), time(21), CHICAGO)
    assert calendar.on_shift(house, start + timedelta(hours=1), start + timedelta(hours=2)) == []


@pytest.mark.parametrize(
    "rule", ["", "DAILY", "FREQ=HOURLY", "FREQ=DAILY;BYHOUR=3", "FREQ=WEEKLY;BYDAY=XX", "FREQ=OFTEN", "a\nb"]
)
def test_what_is_no_rule_is_refused(rule):
    """A rule of RFC 5545 that repeats by days, or an error."""
    with pytest.raises(ValueError):  # noqa: PT011 - the reason differs for each
        calendar.check_rule(rule)


def test_an_unknown_zone_is_told_in_one_line():
    """The error names the key and shows a zone that exists."""
    with pytest.raises(HouseFileError, match=r"house.toml, zone: found 'Mars/Base'.*America/Chicago"):
        calendar.zone(replace(a_house(), zone="Mars/Base"))


@given(
    st.dates(date(2020, 1, 1), date(2035, 12, 31)),
    st.times(),
    st.sampled_from([CHICAGO, "Europe/Dublin", "Australia/Lord_Howe", "UTC", "Africa/Casablanca"]),
)
def test_elapsed_length_never_depends_on_the_clock_change(day, at, zone):
    """An occasion of 600 minutes lasts 600 minutes in every zone and on every night."""
    rec = Recurrence(day, at.replace(second=0, microsecond=0), 600)
    start, end = calendar.day_bounds(day, zone)
    ((a, b),) = calendar.occurrences(rec, zone, start, end + timedelta(hours=2))
    assert b - a == timedelta(minutes=600)


@pytest.mark.parametrize("name", ["America/" * 3000, "../" * 500, "\x00", "\ud800", "a" * 5000])
def test_what_is_no_zone_by_far_is_refused(name):
    """A name of thousands of parts sends the reader of zones into its own depths."""
    with pytest.raises(HouseFileError, match="allowed a zone name such as"):
        calendar.named_zone(name)
