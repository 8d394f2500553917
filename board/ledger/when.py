"""The moment a person means when they type a time."""

import re
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from board.errors import LedgerError
from board.house.time_typed import time_of_day
from board.house.years import known_moment
from board.ledger.typed import AHEAD

DAY = re.compile(r"\d{4}-\d\d-\d\d")
BARE = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?")
AGO = re.compile(
    r"(?:(?P<hours>\d{1,2}) ?h(?: ?(?P<rest>\d{1,2})(?: ?m(?:in)?)?)?|(?P<minutes>\d{1,4})(?: ?m(?:in)?)?)"
)
TIMES = re.compile(r"\d:\d")
LONGEST_AGO = timedelta(days=2)
ALLOWED = "give a time of day such as 04:30 or 4:30 am, or a whole one such as 2026-12-09T04:30-07:00"


def moment_meant(typed: str, zone: ZoneInfo, now: datetime) -> datetime:
    """The aware UTC moment of a typed time.

    A bare time of day is the nearest past one on the house's clock: at 01:00, 23:40 was last night.
    Where the clock was set back and a time came twice, the nearest past one is still what is meant.
    A date with a time and no offset is read on the house's clock too.

    Args:
        typed: `04:30`, `4:30 am`, `2026-12-09 04:30`, `2026-12-09 4:30 am`, or ISO 8601 with an offset.
        zone: the house's zone.
        now: the present moment.

    Raises:
        LedgerError: not a time, not in the years a house knows, or one that the clock skipped when it was
            set forward.
    """
    text = _dated_with_half(typed.strip())
    bare, half = BARE.fullmatch(text), _with_half(text)
    try:
        if half is not None:
            return _nearest_past(half, zone, now)
        if bare:
            hour, minute, second = (int(part or 0) for part in bare.groups())
            return _nearest_past(time(hour, minute, second), zone, now)
        read = known_moment(text)
    except ValueError as error:
        raise LedgerError(f"“{text}” is not a time; {ALLOWED}") from error
    if len(text) <= len("2026-12-09"):
        raise LedgerError(f"“{text}” is a day without a time; {ALLOWED}")
    if read.tzinfo is not None:
        return read.astimezone(UTC)
    return _on_clock(read.date(), read.time(), zone)[-1]


def moment_ago(typed: str, zone: ZoneInfo, now: datetime) -> datetime:
    """The aware UTC moment that somebody means by how long ago it was, or by a time of day.

    A bare number is minutes: `10`, `10 min`, `1 h 10`; `05:30`, or `5:30 am`, is the nearest past one.

    Raises:
        LedgerError: neither of them, or still to come.
    """
    text = typed.strip().lower()
    ago = AGO.fullmatch(text)
    if ago and any(ago.groups()):
        hours, minutes = int(ago["hours"] or 0), int(ago["rest"] or ago["minutes"] or 0)
        if timedelta(hours=hours, minutes=minutes) > LONGEST_AGO:
            raise LedgerError(f"“{typed.strip()}” is more than two days; {ALLOWED}")
        return now - timedelta(hours=hours, minutes=minutes)
    if not (TIMES.search(text) or _with_half(text)):
        raise LedgerError(
            f"“{typed.strip()}” is not how long ago; give 10, 10 min, 1 h 10, or a time as 05:30 or 5:30 am"
        )
    return moment_meant(text, zone, now)


def moment_or_now(typed: str | None, zone: ZoneInfo, now: datetime) -> datetime:
    """The moment of a typed time, as `moment_meant` reads it; now where none was typed."""
    return moment_meant(typed, zone, now) if typed else now


def _with_half(text: str) -> time | None:
    """The time of day that names its half of the day, such as `4:30 pm`; None where the text is none."""
    return time_of_day(text) if text.lower().endswith(("am", "pm")) else None


def _dated_with_half(text: str) -> str:
    """A date with a time that names its half of the day, as ISO 8601 has it; another text as it is."""
    day, _, rest = text.partition(" ")
    half = _with_half(rest.strip())
    return f"{day}T{half:%H:%M}" if half and DAY.fullmatch(day) else text


def _nearest_past(clock: time, zone: ZoneInfo, now: datetime) -> datetime:
    latest = now + AHEAD
    today = latest.astimezone(zone).date()
    for day in (today, today - timedelta(days=1)):
        past = [moment for moment in _on_clock(day, clock, zone) if moment <= latest]
        if past:
            return past[-1]
    raise AssertionError("yesterday's time is always past")


def _on_clock(day: date, clock: time, zone: ZoneInfo) -> list[datetime]:
    """The one or two moments at which the house's clock showed a time on a day, in order."""
    shown = [datetime.combine(day, clock, zone).replace(fold=fold).astimezone(UTC) for fold in (0, 1)]
    found = [moment for moment in shown if moment.astimezone(zone).time() == clock]
    if not found:
        raise LedgerError(f"the clock was set forward over that time on {day}; {ALLOWED}")
    return sorted(set(found))
