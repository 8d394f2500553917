"""How long food was held that nobody measured: what the readings of a hold leave open at its ends."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from board.house.calendar import local
from board.house.model import House
from board.house.spans import minutes_between
from board.house.wording import duration, short_day
from board.ledger.state import Reading
from board.safety.log import slack_s, trusted_minutes
from board.safety.verdict import Answer, Verdict
from board.views import names


@dataclass(frozen=True, slots=True)
class Hold:
    """How long food was held, and how often the house reads it."""

    began: datetime
    ended: datetime
    every_minutes: float

    @property
    def is_due(self) -> bool:
        """Whether it was held until a reading was due."""
        return minutes_between(self.began, self.ended) >= self.every_minutes


def with_unread(house: House, hold: Hold, readings: Sequence[Reading], verdict: Verdict) -> Verdict:
    """A verdict that tells when a hold was due to be read and was not, and passes over no such stretch.

    Between readings the verdict sees to it itself; here it is told of the time before the first of them and
    after the last.
    """
    if not readings:
        return _not_read(house, hold, verdict) if hold.is_due else verdict
    if verdict.answer is not Answer.PASS:
        return verdict
    most = trusted_minutes("holding")
    ends = ((hold.began, readings[0].at), (readings[-1].at, hold.ended))
    longest = most + slack_s() / 60.0
    unread = [_span(house, hold, start, end) for start, end in ends if minutes_between(start, end) > longest]
    if not unread:
        return verdict
    why = f"{verdict.why.rstrip('.')}, but nobody read it {' and '.join(unread)}."
    return replace(verdict, answer=Answer.NOT_SHOWN, why=why, settle=_settle(most))


def _not_read(house: House, hold: Hold, verdict: Verdict) -> Verdict:
    due = _when(house, hold, hold.began + timedelta(minutes=hold.every_minutes))
    span = _span(house, hold, hold.began, hold.ended)
    why = f"Held {span}, not read; a reading was due by {due} and every {duration(hold.every_minutes)} then."
    return replace(verdict, why=why, settle=_settle(trusted_minutes("holding")))


def _span(house: House, hold: Hold, start: datetime, end: datetime) -> str:
    return f"from {_when(house, hold, start)} to {_when(house, hold, end)}"


def _settle(most_minutes: float) -> str:
    return f"readings no further apart than {duration(most_minutes)} while it is held"


def _when(house: House, hold: Hold, moment: datetime) -> str:
    """A time of day, with its date where that is not the day the hold began."""
    day, clock = local(moment, house).date(), names.clock(house, moment)
    return clock if day == local(hold.began, house).date() else f"{short_day(day)} {clock}"
