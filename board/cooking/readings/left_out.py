"""A reading left out of the sum, and why; no arrays, so that words for it cost nothing to load."""

from dataclasses import dataclass
from enum import StrEnum


class Why(StrEnum):
    """Why a reading is left out of the sum."""

    NO_READING = "no reading"
    BEFORE = "before loading"
    AFTER = "after the pull"
    AHEAD = "in the future"
    CLOCK = "by a wrong clock"
    TWICE = "entered twice"
    TWO_AT_ONCE = "two at one moment"
    NOT_THE_START = "not the start"
    FAHRENHEIT = "fahrenheit as celsius"
    CELSIUS = "celsius as fahrenheit"
    PIT_AIR = "pit air"
    ROOM_AIR = "room air"
    ABOVE_BOILING = "above boiling"
    BELOW_START = "below the start"
    TOO_FAST = "too fast"
    NOT_COLDEST = "not the coldest place"
    JUMP = "jump"
    DROP = "drop"
    STUCK = "stuck"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A reading left out: its place in what was given, and why; `meant_c` is it in the other unit."""

    place: int
    minute: float
    core_c: float
    why: Why
    meant_c: float | None = None
