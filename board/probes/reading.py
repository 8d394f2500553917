"""What a probe says, before and after it is known what it measures."""

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class Told:
    """One temperature as a message tells it.

    `probe` is the name the message gives it. `unit` is C or F, None where it names none; `at` is None where
    it gives no time, and without an offset where it gives that of a clock on the wall.
    """

    probe: str
    degrees: float
    unit: str | None = None
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Sent:
    """One temperature of a probe of the house, in °C."""

    probe: str
    at: datetime
    temperature_c: float


@dataclass(frozen=True, slots=True)
class Fed:
    """One temperature of a probe: of a place, of a load's core, or of nothing that is known."""

    probe: str
    at: datetime
    temperature_c: float
    place: str | None = None
    load: str | None = None
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Bad:
    """A message that cannot be taken: when it came, why not, and its text."""

    at: datetime
    why: str
    message: str
