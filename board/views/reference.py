"""A row's key: the day something is for and its id, as one text and back."""

from datetime import date


def ref(day: date, id: str) -> str:
    """The key of a load, step or batch of a day."""
    return f"{day.isoformat()}/{id}"


def parts(key: str) -> tuple[date, str]:
    """The day and the id of a key."""
    day, _, id = key.partition("/")
    return date.fromisoformat(day), id
