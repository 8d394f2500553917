"""Days and moments as they are said near today."""

from datetime import date, datetime, timedelta

from board.house.calendar import local
from board.house.wording import day_name, short_day
from board.views import names
from board.views.facts import Facts

DAYS_NAMED = 6
_HALF_DAY = timedelta(hours=12)


def near_day(facts: Facts, day: date) -> str:
    """A day as it is said: `today`, `tomorrow`, `Tuesday` within the week, and with its date further off."""
    ahead = (day - facts.today).days
    if ahead in (-1, 0, 1):
        return ("yesterday", "today", "tomorrow")[ahead + 1]
    return day_name(day).split()[0] if 0 < ahead < DAYS_NAMED else short_day(day)


def when(facts: Facts, moment: datetime) -> str:
    """A time of day, with its date when that is not today's."""
    day = local(moment, facts.house).date()
    clock = names.clock(facts.house, moment)
    return clock if day == facts.today else f"{near_day(facts, day)} {clock}"


def when_short(facts: Facts, moment: datetime) -> str:
    """The same where room is short: `Fri 05:40` in place of `yesterday 05:40`."""
    day = local(moment, facts.house).date()
    clock = names.clock(facts.house, moment)
    return clock if day == facts.today else f"{short_day(day).split()[0]} {clock}"


def lately(facts: Facts, moment: datetime) -> str:
    """A time of day alone where it is of the last or the next half day; with its day further off."""
    near = abs(moment - facts.now) < _HALF_DAY
    return names.clock(facts.house, moment) if near else when(facts, moment)
