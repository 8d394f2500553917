"""The time, from one place: the real one, or one that is set and runs, or one that stands still."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from time import monotonic
from typing import Protocol


class Clock(Protocol):
    """Tells the time, as an aware UTC moment."""

    def now(self) -> datetime:
        """The present moment."""
        ...


class RealClock:
    """This machine's clock."""

    def now(self) -> datetime:
        """The present moment."""
        return datetime.now(UTC)


class SetClock:
    """A clock set to a moment, running from there."""

    def __init__(self, start: datetime, elapsed: Callable[[], float] = monotonic) -> None:
        self._start = start.astimezone(UTC)
        self._elapsed = elapsed
        self._set_at = elapsed()

    def now(self) -> datetime:
        """The moment it was set to, and what has passed since."""
        return self._start + timedelta(seconds=self._elapsed() - self._set_at)


@dataclass
class StoppedClock:
    """A clock that stands where it is put."""

    moment: datetime

    def now(self) -> datetime:
        """The moment it stands at."""
        return self.moment
