"""Repeating times of day, shifts and services, as moments.

A rule (RFC 5545, section 3.3.10) is expanded on the wall clock of the house and each start is then turned
into UTC, so that lunch is at 11:00 on both sides of a clock change. Lengths are elapsed minutes from that
start. On the night a wall-clock time does not exist, the occasion starts as many minutes after the change
as it would have after the missing hour began (02:30 becomes 03:30); on the night it exists twice, it
starts the first time. Both are what RFC 5545, section 3.3.5, asks of a local time.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from board.errors import HouseFileError
from board.house.model import House, Recurrence, Shift

if TYPE_CHECKING:
    from dateutil.rrule import rrule, rruleset

_DAY = timedelta(days=1)
_ANY_DAY = date(2024, 1, 1)


@dataclass(frozen=True, slots=True)
class ServiceTime:
    """One occasion of a service: when it opens, until when it runs, and what is promised."""

    id: str
    name: str
    at: datetime
    until: datetime
    promises: Mapping[str, int]
    chance: float


def zone(house: House) -> ZoneInfo:
    """The house's time zone; raises HouseFileError when this machine does not know it."""
    return named_zone(house.zone)


def named_zone(name: str) -> ZoneInfo:
    """A zone by its IANA name; raises HouseFileError when this machine does not know it."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError, RecursionError):
        raise HouseFileError(
            f"house.toml, zone: found '{name}', allowed a zone name such as America/Chicago"
        ) from None


def local(moment: datetime, house: House) -> datetime:
    """The moment on the house's wall clock."""
    return moment.astimezone(zone(house))


def with_offset(moment: datetime, house: House) -> str:
    """The moment for other programs: ISO 8601 to the second, with the house's offset."""
    return local(moment, house).isoformat(timespec="seconds")


def at_time(day: date, at: time, zone: str) -> datetime:
    """The moment (UTC) of a time of day on a date in a zone; clock changes as this module says."""
    # fold=0 takes the first of two and, for a missing time, the offset from before the change
    return datetime.combine(day, at.replace(tzinfo=None, fold=0), named_zone(zone)).astimezone(UTC)


def day_bounds(day: date, zone: str) -> tuple[datetime, datetime]:
    """The moments (UTC) at which a date begins and ends in a zone: 23, 24 or 25 hours apart."""
    return at_time(day, time(), zone), at_time(day + _DAY, time(), zone)


def occurrences(
    rec: Recurrence, zone: str, start: datetime, end: datetime
) -> list[tuple[datetime, datetime]]:
    """Every occasion that overlaps `start`..`end`, as (start, end) in UTC, in order.

    An occasion that began before `start` and still runs then is included; one that ends at `start` or
    begins at `end` is not. An occasion without length counts when start <= it < end.
    """
    length = timedelta(minutes=rec.minutes)
    where = named_zone(zone)
    first = (start - length).astimezone(where).date() - _DAY
    last = end.astimezone(where).date() + _DAY
    spans = ((at, at + length) for at in (at_time(day, rec.at, zone) for day in days(rec, first, last)))
    return sorted((a, b) for a, b in spans if a < end and (b > start or (a == b and a >= start)))


def days(rec: Recurrence, first: date, last: date) -> list[date]:
    """The dates from `first` to `last`, both counted, on which the occasion begins."""
    if rec.rule is None:
        found = [rec.first] if first <= rec.first <= last else []
    else:
        found = list(_dates(rec.rule, rec.first, max(first, rec.first), last))
    return [day for day in found if day not in rec.not_on]


def check_rule(rule: str) -> None:
    """Raise ValueError with the reason when a text is not a recurrence rule of whole days."""
    upper = rule.upper().removeprefix("RRULE:")
    parts = dict(part.partition("=")[::2] for part in upper.split(";"))
    if parts.get("FREQ") in {"HOURLY", "MINUTELY", "SECONDLY"}:
        raise ValueError("a rule repeats by days at most; give each time of day its own entry")
    if set(parts) & {"BYHOUR", "BYMINUTE", "BYSECOND"}:
        raise ValueError("the time of day is told by 'at', not by the rule")
    if not (step := parts.get("INTERVAL", "1")).isdecimal() or int(step) == 0:
        raise ValueError("a rule repeats every so many days, weeks, months or years, one or more")
    _expander(rule, _ANY_DAY)
    endless = ";".join(f"{key}={value}" for key, value in parts.items() if key not in {"COUNT", "UNTIL"})
    if next(iter(_expander(endless, _ANY_DAY)), None) is None:
        raise ValueError("a rule of days that never come, such as 30 February")


def services_on(house: House, day: date) -> list[ServiceTime]:
    """The services whose local date is `day`, in order of time; orders are not services."""
    start, end = day_bounds(day, house.zone)
    found = []
    for service in house.services.values():
        for at, until in occurrences(service.when, house.zone, start, end):
            if at.astimezone(zone(house)).date() == day:
                chance = house.chance if service.chance is None else service.chance
                put = service.due.get(day, at)
                ends = put + (until - at)
                found.append(ServiceTime(service.id, service.name, put, ends, dict(service.promises), chance))
    return sorted(found, key=lambda s: (s.at, s.id))


def on_shift(house: House, start: datetime, end: datetime) -> list[tuple[str, datetime, datetime, str]]:
    """Who works between two moments: (person id, from, to, crew name), shifts cut to nothing, in order."""
    found = [
        (person, a, b, shift.name)
        for shift in house.shifts
        for a, b in occurrences(shift.when, house.zone, start, end)
        for person in shift.people
    ]
    return sorted(found, key=lambda worked: (worked[1], worked[0], worked[2]))


def on_break(house: House, start: datetime, end: datetime) -> list[tuple[str, datetime, datetime]]:
    """Who is away when between two moments: (person id, from, to), each break whole, in order."""
    found = [
        (person, begins + timedelta(minutes=after), begins + timedelta(minutes=after + minutes))
        for shift in house.shifts
        if shift.breaks
        for begins, _ in occurrences(shift.when, house.zone, start, end)
        for person, after, minutes in break_turns(shift)
    ]
    return sorted(found, key=lambda away: (away[1], away[0]))


def break_turns(shift: Shift) -> list[tuple[str, float, float]]:
    """Each break of each person of a shift: (person id, minutes into the shift, minutes away).

    They go one after another, as they are listed. Where not all turns fit before the next break or the
    shift's end, the list begins again with the first turn, and some go together.
    """
    found = []
    ends = [*(pause.after_minutes for pause in shift.breaks[1:]), shift.when.minutes]
    for pause, end in zip(shift.breaks, ends, strict=True):
        turns = max(1, int((end - pause.after_minutes) / pause.minutes + 1e-9))
        for n, person in enumerate(shift.people):
            found.append((person, pause.after_minutes + n % turns * pause.minutes, pause.minutes))
    return found


@lru_cache(maxsize=4096)
def _dates(rule: str, counted_from: date, first: date, last: date) -> tuple[date, ...]:
    """The dates of a rule in a span; the expander goes through all before it each time it is asked."""
    opening, closing = datetime.combine(first, time()), datetime.combine(last, time.max)
    found = _expander(rule, counted_from).between(opening, closing, inc=True)
    return tuple(sorted({each.date() for each in found}))


@lru_cache(maxsize=512)
def _expander(rule: str, first: date) -> "rrule | rruleset":
    """The rule on naive wall-clock midnights, counted from its first date."""
    from dateutil.rrule import rrulestr  # noqa: PLC0415 - only where a rule is expanded

    bare = rule.strip().removeprefix("RRULE:")
    if "\n" in bare or not bare:
        raise ValueError("one rule on one line")
    return rrulestr(_until_as_day(bare), dtstart=datetime.combine(first, time()), cache=True)


def _until_as_day(rule: str) -> str:
    """The rule with UNTIL as the end of its date: days are expanded without a zone."""
    parts = [part.partition("=") for part in rule.split(";")]
    return ";".join(
        f"{key}={value[:8]}T235959" if key.upper() == "UNTIL" else f"{key}{equals}{value}"
        for key, equals, value in parts
    )
