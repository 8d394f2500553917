"""Ranges: what practice allows, what an estimate expects, and what lies between two moments."""

from dataclasses import dataclass
from datetime import datetime, timedelta


@dataclass(frozen=True, slots=True)
class Spread:
    """A practice range: the low end, the usual value and the high end, in one unit."""

    low: float
    usual: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.usual <= self.high:
            raise ValueError(f"a spread runs low, usual, high; got {self.low}, {self.usual}, {self.high}")


@dataclass(frozen=True, slots=True)
class Span:
    """A likely range: 10th percentile, median and 90th percentile, in one unit."""

    p10: float
    p50: float
    p90: float


@dataclass(frozen=True, slots=True)
class TimeSpan:
    """A likely range of a moment: 10th percentile, median and 90th percentile (aware UTC)."""

    p10: datetime
    p50: datetime
    p90: datetime

    @classmethod
    def after(cls, start: datetime, minutes: Span) -> "TimeSpan":
        """The moments that lie a span of elapsed minutes after a start."""
        return cls(*(start + timedelta(minutes=m) for m in (minutes.p10, minutes.p50, minutes.p90)))


def minutes_between(start: datetime, end: datetime) -> float:
    """Elapsed minutes from one moment to another; negative where the other came first."""
    return (end - start) / timedelta(minutes=1)
