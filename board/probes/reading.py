"""What a probe says, before and after it is known what it measures."""

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class Sent:
    """One temperature out of a message: which probe it names, and when it was taken."""

    probe: str
    at: datetime
    temperature_c: float


@dataclass(frozen=True, slots=True)
class Fed:
    """One temperature of a probe of the house: of a place, of a load's core, or of nothing that is known."""

    probe: str
    at: datetime
    temperature_c: float
    place: str | None = None
    load: str | None = None
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Bad:
    """A message that cannot be taken: when it came, why not, and its text cut short."""

    at: datetime
    why: str
    message: str
