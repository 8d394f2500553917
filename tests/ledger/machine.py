"""A machine whose true time, clock and count of uptime a test sets, as a ledger sees them."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from board.ledger.open import Ledger
from board.ledger.uptime import Uptime

from .by_hand import EVENING


@dataclass
class Machine:
    """Time goes on for its count, asleep or awake; its clock is ahead of true time by `error`."""

    true: datetime = EVENING
    error: timedelta = timedelta(0)
    boot: str = "boot-1"
    booted: datetime = field(default=EVENING - timedelta(hours=3))

    def runs(self, ledger: Ledger) -> "Machine":
        """Have a ledger's entries counted by this machine."""
        ledger.uptime = self.uptime  # type: ignore[method-assign]
        return self

    def uptime(self) -> Uptime:
        """The count now."""
        return Uptime(self.boot, (self.true - self.booted) // timedelta(milliseconds=1))

    @property
    def shows(self) -> datetime:
        """What its clock shows."""
        return self.true + self.error

    def said(self, minutes: float = 0, who: str = "Ines") -> dict[str, object]:
        """Who and when, so many minutes later, by its clock."""
        self.true += timedelta(minutes=minutes)
        return {"who": who, "at": self.shows, "noted_at": self.shows}
