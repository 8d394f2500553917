"""The years in which a house's dates may lie, and the day a person means by what they type.

Room for any history and any order ahead, yet so near that a repeating rule is counted to its end at once,
and that no sum of dates leaves the calendar.
"""

from datetime import date, datetime, time, timedelta

from board.errors import BoardError

FIRST_YEAR, LAST_YEAR = 1970, 2199
ALLOWED = f"from {FIRST_YEAR} to {LAST_YEAR}"


def known_day(day: date) -> date:
    """The date itself; raises ValueError outside the years a house knows."""
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise ValueError(day)
    return day


def known_moment(text: str) -> datetime:
    """The ISO 8601 moment of a text, with or without an offset; raises ValueError as `known_day` does."""
    found = datetime.fromisoformat(text)
    known_day(found.date())
    return found


def known_clock(text: str) -> time:
    """The time of day of an ISO 8601 text on the house's clock; raises ValueError for one with an offset."""
    found = time.fromisoformat(text)
    if found.tzinfo is not None:
        raise ValueError(text)
    return found


def day_meant(text: str, today: date, option: str = "--day") -> date:
    """The day of a text such as 2026-12-19, yesterday, today or tomorrow; raises BoardError in one line.

    Args:
        text: as typed.
        today: the date on the house's clock.
        option: where it was typed, for the message.
    """
    typed = text.strip()
    near = {"yesterday": today - timedelta(days=1), "today": today, "tomorrow": today + timedelta(days=1)}
    try:
        return near.get(typed.lower()) or known_day(date.fromisoformat(typed))
    except ValueError:
        raise BoardError(
            f"{option}: found '{text}', allowed a date such as 2026-12-19 {ALLOWED}, "
            "yesterday, today or tomorrow"
        ) from None


def days_meant(first: str | None, last: str | None, today: date) -> tuple[date, date]:
    """The days of --from and --to: today where no first was typed, the first where no last was."""
    begins = day_meant(first, today, "--from") if first is not None else today
    return begins, day_meant(last, today, "--to") if last is not None else begins
