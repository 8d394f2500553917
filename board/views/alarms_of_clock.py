"""The alarm that this machine's clock and the board's time, or the last entry, contradict each other."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.calendar import local
from board.house.model import House
from board.house.wording import said_ahead
from board.ledger.state import RightClock
from board.views import names
from board.views.alarm import Alarm, AlarmKind, spell
from board.views.text import Tone

CLOCK = "clock:"  # what settles it: to say which is right


@dataclass(frozen=True, slots=True)
class Apart:
    """What this machine's clock shows, and what it should: the board's time, or the last entry's at least."""

    shows: datetime
    should: datetime
    since: datetime
    is_last_entry: bool = False

    @property
    def ahead(self) -> timedelta:
        """How far the machine's clock is ahead."""
        return self.shows - self.should


def clock_alarm(house: House, apart: Apart) -> Alarm:
    """The one alarm about it."""
    shows, should = _told(house, apart.shows, apart.should), _told(house, apart.should, apart.shows)
    if apart.is_last_entry:
        says = f"this machine's clock shows {shows}, before the last entry at {should}"
        todo = "set it right, or say that it is"
    else:
        says = f"this machine's clock was set, to {shows}; the board goes on at {should} by what has passed"
        todo = "say which is right"
    return Alarm(
        key=f"clock/{spell(apart.since)}",
        level=1,
        kind=AlarmKind.CLOCK,
        says=says,
        todo=todo,
        tone=Tone.LATE,
        since=apart.since,
        do=CLOCK,
    )


def choices(house: House, apart: Apart) -> dict[str, RightClock | None]:
    """The answers to which is right, each with what it means: None, that this clock is set right next."""
    shows, should = _told(house, apart.shows, apart.should), _told(house, apart.should, apart.shows)
    machine = {f"this machine's: it is {shows} now": RightClock.MACHINE}
    if apart.is_last_entry:
        return {**machine, "the last entry's: this machine's clock is set right next": None}
    return {f"the board's: it is {should} now": RightClock.BOARD, **machine}


def settled(right: RightClock, ahead: timedelta) -> str:
    """What is said back once a person has said which is right."""
    if right is RightClock.MACHINE:
        return "the board goes by this machine's clock"
    return f"the board keeps its time; set this machine's clock right, it is {said_ahead(ahead)}"


def _told(house: House, moment: datetime, beside: datetime) -> str:
    """A time of day, with its date where the other is of another day."""
    there = local(moment, house)
    day = f"{there.day} {there:%b %Y} " if there.date() != local(beside, house).date() else ""
    return f"{day}{names.clock(house, moment)}"
