"""One message of a probe, as JSON or as plain words."""

import json
from collections.abc import Mapping
from typing import Any, NoReturn

from board.probes.figures import degrees, number, time, unit
from board.probes.limits import bounds
from board.probes.reading import Told
from board.probes.refused import BadMessageError, quoted

PROBE_KEYS = ("probe", "sensor", "name", "id")
TIME_KEYS = ("time", "timestamp", "at", "ts")
DEGREE_KEYS: Mapping[str, str | None] = {
    "temperature": None,
    "temp": None,
    "value": None,
    **{f"{of}_{scale}": scale.upper() for of in ("temperature", "temp", "core", "air") for scale in "cf"},
}
_SHAPES = 'such as {"probe": "north-grate", "temperature": 225, "unit": "F"}, or the words north-grate 225 F'
_MOST_WORDS = 16


def read_message(message: bytes | str, probe: str | None = None) -> list[Told]:
    """The temperatures a message tells; `probe` is whose they are where the message names none.

    Raises:
        BadMessageError: it is too long, no text, or says no temperature; in a list of readings, any of them.
    """
    text = _text(message)
    if not text:
        raise BadMessageError(f"found nothing, allowed a reading {_SHAPES}")
    if text[0] not in "{[":
        return [_words(text, probe)]
    found = _json(text)
    return [_object(one, probe) for one in (found if isinstance(found, list) else [found])]


def _text(message: bytes | str) -> str:
    longest = bounds().longest_bytes
    if len(message) > longest:
        raise BadMessageError(f"found {len(message)} bytes, allowed {longest} in one message")
    if isinstance(message, str):
        return message.strip().lstrip("\ufeff")
    try:
        return message.decode("utf-8-sig").strip()
    except UnicodeDecodeError as error:
        raise BadMessageError(f"found no UTF-8 at byte {error.start + 1}, allowed text in UTF-8") from None


def _json(text: str) -> Any:
    try:
        return json.loads(text, parse_constant=_no_number)
    except RecursionError:
        raise BadMessageError(f"found JSON nested too deep, allowed a reading {_SHAPES}") from None
    except ValueError as error:
        raise BadMessageError(f"found no sound JSON ({error}), allowed a reading {_SHAPES}") from None


def _no_number(said: str) -> NoReturn:
    raise BadMessageError(f"found {said}, allowed a number such as 107.5")


def _object(said: Any, probe: str | None) -> Told:
    if not isinstance(said, dict):
        raise BadMessageError(f"found {quoted(said)}, allowed a reading {_SHAPES}")
    given = {key.casefold(): value for key, value in said.items() if value is not None}
    key = next((key for key in DEGREE_KEYS if key in given), None)
    if key is None:
        raise BadMessageError(f"found no temperature, allowed a reading {_SHAPES}")
    named = next((given[name] for name in PROBE_KEYS if name in given), probe)
    if not isinstance(named, str) or not named.strip():
        raise BadMessageError(f"found no name of a probe, allowed a reading {_SHAPES}")
    value, own = _degrees(given[key])
    scale = DEGREE_KEYS[key] or own or unit(given.get("unit"))
    when = next((given[name] for name in TIME_KEYS if name in given), None)
    return Told(named.strip(), value, scale, time(when))


def _degrees(said: Any) -> tuple[float, str | None]:
    return degrees(said) if isinstance(said, str) else (number(said), None)


def _words(text: str, probe: str | None) -> Told:
    """`probe temperature unit time`; unit and time may be missing, and the probe where it is known."""
    words = text.split()
    for n in range(min(len(words), _MOST_WORDS)):
        named = " ".join(words[:n]).strip(":=,;") or probe
        if named and (found := _after_name(named, words[n:])):
            return found
    raise BadMessageError(f"found {quoted(text)}, allowed a reading {_SHAPES}")


def _after_name(named: str, words: list[str]) -> Told | None:
    """What the words after a probe's name tell, where they are a temperature, a unit, a time and no more."""
    for joined in (2, 1):
        try:
            value, scale = degrees(" ".join(words[:joined]))
            return Told(named, value, scale, time(" ".join(words[joined:])))
        except BadMessageError:
            continue
    return None
