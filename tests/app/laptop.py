"""A machine for a board to run on: its clock is set and its time goes on by a test's hand."""

from datetime import UTC, datetime, timedelta

from board.app.clock import BoardClock
from board.ledger.uptime import Uptime

START = datetime(2026, 12, 19, 11, 40, tzinfo=UTC)


class Laptop:
    """A machine with a clock that can be set; without a boot its count stands still while it sleeps."""

    def __init__(self, boot: str = "boot-1", clock: datetime = START) -> None:
        self.boot, self.up_ms, self.clock = boot, 5_000_000, clock

    def passes(self, time: timedelta, *, asleep: bool = False) -> None:
        """Time goes on."""
        self.clock += time
        if self.boot or not asleep:
            self.up_ms += time // timedelta(milliseconds=1)

    def shows(self) -> datetime:
        """What its clock shows."""
        return self.clock

    def uptime(self) -> Uptime:
        """Its count."""
        return Uptime(self.boot, self.up_ms)

    def board(self, start: datetime | None = None) -> BoardClock:
        """The clock of a board on it."""
        return BoardClock(start, self.shows, self.uptime)
