"""The time, from one place: by what passes on this machine, or one that is set and runs, or stands still."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from time import monotonic
from typing import Protocol

from board.ledger.clocks import APART
from board.ledger.uptime import Uptime, uptime


class Clock(Protocol):
    """Tells the time, as an aware UTC moment."""

    def now(self) -> datetime:
        """The present moment."""
        ...


def _machine_shows() -> datetime:
    return datetime.now(UTC)


class BoardClock:
    """The time of a board that runs on this machine: by what passes, so that no clock set under it moves it.

    What passes while the machine sleeps counts. Small corrections of the machine's clock are followed; where
    the two are further apart, a person says which is right. On a machine that does not count sleep, a clock
    that is further on is followed too.
    """

    def __init__(
        self,
        start: datetime | None = None,
        shows: Callable[[], datetime] = _machine_shows,
        count: Callable[[], Uptime] = uptime,
    ) -> None:
        self._shows, self._count = shows, count
        self._last = (start or shows(), count())
        self._apart = timedelta(0)
        self._apart_since: datetime | None = None

    def now(self) -> datetime:
        """The present moment."""
        shows, up = self._shows(), self._count()
        at, before = self._last
        own = at + timedelta(milliseconds=(up.up_ms or 0) - (before.up_ms or 0))
        apart = shows - own
        if abs(apart) <= APART or (not up.boot and apart > timedelta(0)):
            own, apart = shows, timedelta(0)
        if abs(apart - self._apart) > APART:
            self._apart, self._apart_since = apart, own if apart else None
        self._last = (own, up)
        return own

    @property
    def apart(self) -> timedelta:
        """How far the machine's clock was ahead when the time was last asked; nought where it is followed."""
        return self._apart

    @property
    def apart_since(self) -> datetime | None:
        """Since when the two have been so far apart; None while they are not."""
        return self._apart_since

    def go_on_from(self, moment: datetime) -> None:
        """Go on from the moment that it is now; with the machine's clock, where that shows about the same."""
        self._last = (moment, self._count())
        self.now()

    def follow_machine(self) -> None:
        """Go on with what the machine's clock shows."""
        self._last = (self._shows(), self._count())
        self._apart, self._apart_since = timedelta(0), None


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
