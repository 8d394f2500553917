"""Numbers, units and times as messages and files spell them."""

import re
from datetime import UTC, datetime
from math import isfinite

from board.probes.refused import BadMessageError, quoted

_NUMBER = re.compile(r"[-+]?\d{1,9}(?:[.,]\d{1,15})?(?:[eE][-+]?\d{1,2})?")
_UNITS = {"c": "C", "degc": "C", "celsius": "C", "f": "F", "degf": "F", "fahrenheit": "F"}
_JOINED = re.compile(rf"({_NUMBER.pattern})\s*([°\w]*)")
_EPOCH = re.compile(r"\d{9,13}(?:\.\d{1,9})?")
_FROM_MS = 1e11  # as seconds the year 5138, as milliseconds 1973
_DATE = len("2026-12-19")
_NUMBERS = "a number such as 107.5"
TIMES = "a time such as 2026-12-19T05:40-07:00, or seconds or milliseconds since 1970"


def number(said: object) -> float:
    """A finite number out of a number or its text; a decimal comma is read as a point.

    Raises BadMessageError for anything else.
    """
    if isinstance(said, bool) or not isinstance(said, (int, float, str)):
        raise BadMessageError(f"found {quoted(said)}, allowed {_NUMBERS}")
    if isinstance(said, str):
        text = said.strip()
        if not _NUMBER.fullmatch(text):
            raise BadMessageError(f"found {quoted(text)}, allowed {_NUMBERS}")
        return float(text.replace(",", "."))
    try:
        found = float(said)
    except OverflowError:
        raise BadMessageError(f"found a number of many digits, allowed {_NUMBERS}") from None
    if not isfinite(found):
        raise BadMessageError(f"found {found}, allowed {_NUMBERS}")
    return found


def unit(said: object) -> str | None:
    """C or F as somebody spells it; None where nothing is said.

    Raises BadMessageError for any other unit.
    """
    if said is None or said == "":
        return None
    found = (
        _UNITS.get(str(said).replace("°", "").replace(" ", "").casefold()) if isinstance(said, str) else None
    )
    if found is None:
        raise BadMessageError(f"found the unit {quoted(said)}, allowed C or F")
    return found


def degrees(said: str) -> tuple[float, str | None]:
    """A temperature with or without its unit, such as `225F`, `107,5 °C` or `38`.

    Raises BadMessageError where it is neither.
    """
    found = _JOINED.fullmatch(said.strip())
    if found is None:
        raise BadMessageError(f"found {quoted(said)}, allowed a temperature such as 225 F")
    return number(found[1]), unit(found[2])


def time(said: object) -> datetime | None:
    """A moment: ISO 8601, with its offset or by the clock on the wall, or a count since 1970; None for none.

    Raises BadMessageError for anything else.
    """
    if said is None or said == "":
        return None
    if isinstance(said, (int, float)) and not isinstance(said, bool):
        return _since_1970(number(said))
    text = str(said).strip()
    if isinstance(said, str) and _EPOCH.fullmatch(text):
        return _since_1970(float(text))
    try:
        if not isinstance(said, str) or len(text) <= _DATE:
            raise ValueError  # noqa: TRY301 - a date alone is no time
        found = datetime.fromisoformat(text)
        return found.astimezone(UTC) if found.tzinfo else found
    except (ValueError, OverflowError):
        raise BadMessageError(f"found the time {quoted(said)}, allowed {TIMES}") from None


def _since_1970(count: float) -> datetime:
    seconds = count / 1000.0 if abs(count) >= _FROM_MS else count
    try:
        return datetime.fromtimestamp(seconds, UTC)
    except (ValueError, OverflowError, OSError):
        raise BadMessageError(f"found the time {count:g}, allowed {TIMES}") from None
