"""A time of day as people type it, by either clock."""

import re
from datetime import time

_NOON, _HOURS, _MINUTES = 12, 24, 60
_TYPED = re.compile(r"(\d{1,2})(?:[:.]?(\d{2}))? ?(am|pm)?", re.ASCII)


def time_of_day(typed: str) -> time | None:
    """The time that is meant by 11:30, 1130, 17.30, 11, 5 pm or 2:30 pm; None where it is none."""
    found = _TYPED.fullmatch(typed.strip().lower())
    if not found:
        return None
    hour, minute, half = int(found[1]), int(found[2] or 0), found[3]
    if half and not 1 <= hour <= _NOON:
        return None
    if half:
        hour = hour % _NOON + (_NOON if half == "pm" else 0)
    return time(hour, minute) if hour < _HOURS and minute < _MINUTES else None
