"""How the board words times, days and counts, the same on every screen, sheet and command."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from difflib import get_close_matches
from functools import lru_cache
from zoneinfo import ZoneInfo

from board.house.model import House

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
# plurals that English does not make by adding an s, and names that are mass nouns
_PLURALS = {
    "entry": "entries",
    "half": "halves",
    "loaf": "loaves",
    "person": "people",
    "leg of lamb": "legs of lamb",
    "ham on the bone": "hams on the bone",
}
_SAME = ("ribs", "wings", "ends", "pastrami", "pork", "beef", "chicken")


def clock_time(moment: datetime, house: House) -> str:
    """The time of day in the house's zone and clock: `07:50`, or `7:50 am` for a 12-hour house."""
    return time_shown(moment.astimezone(ZoneInfo(house.zone)), house.display.clock_hours)


def time_shown(local: datetime | time, clock_hours: int) -> str:
    """A time of day as a clock of 12 or of 24 hours shows it."""
    if clock_hours == 12:
        return f"{(local.hour - 1) % 12 + 1}:{local.minute:02d} {'am' if local.hour < 12 else 'pm'}"
    return f"{local:%H:%M}"


def date_and_time(local: datetime, clock_hours: int) -> str:
    """A moment of any year as that clock shows it: `21:10 on Sat 19 Dec 2026`, or `9:10 pm on …`."""
    return f"{time_shown(local, clock_hours)} on {short_day(local.date())} {local.year}"


def clock_and_day(moment: datetime, house: House) -> str:
    """The time of day and the date of it there: `21:10 on Sat 19 Dec`."""
    day = moment.astimezone(ZoneInfo(house.zone)).date()
    return f"{clock_time(moment, house)} on {short_day(day)}"


def duration(minutes: float) -> str:
    """Elapsed time in words: `45 min`, `1 h 20`, `2 h`, `3 days 4 h`; a lateness keeps its minus sign."""
    whole = round(abs(minutes))
    sign = "-" if minutes < 0 and whole else ""
    days, rest = divmod(whole, 1440)
    hours, mins = divmod(rest, 60)
    if days >= 2:
        return f"{sign}{days} days" + (f" {hours} h" if hours else "")
    hours += 24 * days
    if not hours:
        return f"{sign}{mins} min"
    return f"{sign}{hours} h" + (f" {mins:02d}" if mins else "")


def said_set(by: timedelta) -> str:
    """How far a clock or a time was moved, such as `1 h 10 on` or `2 h back`."""
    return f"{duration(abs(by).total_seconds() / 60.0)} {'back' if by < timedelta(0) else 'on'}"


def said_ahead(ahead: timedelta) -> str:
    """How far a clock was off, such as `1 h 10 ahead` or `2 days behind`."""
    far = duration(abs(ahead).total_seconds() / 60.0)
    return f"{far} {'behind' if ahead < timedelta(0) else 'ahead'}"


def day_name(day: date) -> str:
    """A date as it is said: `Saturday 19 December`."""
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def short_day(day: date) -> str:
    """A date in three words' first letters: `Sat 19 Dec`."""
    return f"{_DAYS[day.weekday()][:3]} {day.day} {_MONTHS[day.month - 1][:3]}"


def count(number: int, name: str) -> str:
    """A count of pieces: `12 briskets`, `1 brisket`, `18 chicken halves`, `6 spare ribs`."""
    return f"{number} {name if number == 1 else plural(name)}"


def times_of(entries: int) -> str:
    """The times of so many entries: `time of 1 entry`, `times of 3 entries`."""
    return f"{'time' if entries == 1 else 'times'} of {count(entries, 'entry')}"


@lru_cache(maxsize=512)
def plural(name: str) -> str:
    """The name for more than one of them."""
    head, comma, tail = name.partition(",")
    lowered = head.lower()
    for one, many in _PLURALS.items():
        if lowered.endswith(one):
            return head[: len(head) - len(one)] + many + comma + tail
    if lowered.endswith(_SAME):
        return name
    ending = "es" if lowered.endswith(("s", "x", "ch", "sh")) else "s"
    return head + ending + comma + tail


def in_list(words: list[str]) -> str:
    """Words in a sentence: `brisket, ribs and ham`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def nearest(typed: str, known: Sequence[str], most: int = 4) -> str:
    """What somebody may have meant of many names: all of a few, else those most alike: `a, b, and 9 more`."""
    if len(known) <= most:
        return in_list(list(known)) or "none"
    alike = get_close_matches(typed, known, n=most, cutoff=0.0)
    return f"{', '.join(alike)}, and {len(known) - most} more"
