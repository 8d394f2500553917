"""Whether cooling food will be cold in time, from two readings and the temperature around it.

The two-point method of Hedeen, Schaffner and Brown (2022), J. Environmental Health: the logarithm of what
is left above the surroundings falls along a straight line. Validated on 29 foods in 25 restaurants (Igo,
Hedeen and Schaffner 2021, J. Food Protection): 10 of 12 foods it called acceptable met the code. Deep
food, from 7.6 cm, tends to fail whatever it says.
"""

from dataclasses import dataclass
from math import log10

from board.safety.cooling import checkpoints
from board.safety.falling import left_above
from board.safety.log import TemperatureLog, slack_s, trusted_minutes
from board.safety.tables import rules, table
from board.safety.verdict import Checkpoint


@dataclass(frozen=True, slots=True)
class Foreseen:
    """A checkpoint of cooling and when it is likely to be met: minutes of the record, None for never.

    `due_minute` is the last minute that is in time.
    """

    checkpoint: Checkpoint
    at_minute: float | None
    due_minute: float

    @property
    def in_time(self) -> bool:
        """Whether it is likely to be met in time."""
        return self.at_minute is not None and self.at_minute <= self.due_minute + slack_s() / 60.0

    @property
    def late_minutes(self) -> float | None:
        """How many minutes late, below nought when early; None where it is never met."""
        return None if self.at_minute is None else self.at_minute - self.due_minute


@dataclass(frozen=True, slots=True)
class Line:
    """What two readings say of how fast food cools: decades a minute, from a reading on."""

    from_minute: float
    from_c: float
    decades_a_minute: float
    surroundings_c: float

    def reaches(self, c: float) -> float | None:
        """The minute at which it is at `c`, before or after its reading; None where it never is."""
        if c <= self.surroundings_c or self.decades_a_minute <= 0.0:
            return None
        fallen = log10((self.from_c - self.surroundings_c) / (c - self.surroundings_c))
        return self.from_minute + fallen / self.decades_a_minute


def slope_needed(from_c: float, to_c: float, minutes: float, surroundings_c: float) -> float:
    """Decades a minute that food must cool at to fall so far in so long; surroundings colder than `to_c`."""
    return log10((from_c - surroundings_c) / (to_c - surroundings_c)) / minutes


def foreseen(log: TemperatureLog, surroundings_c: float, *, place: str = "us") -> tuple[Foreseen, ...]:
    """When each checkpoint of cooling is likely to be met; empty where no two readings show it cooling.

    The last reading counts, with the latest before it that is far enough away to tell a slope.
    """
    line = _line(log, surroundings_c)
    if line is None:
        return ()
    rule = rules(place, "cooling")
    starts_c = rule.limit("starts").least_c(in_fahrenheit=log.in_fahrenheit)
    passed = left_above(tuple(log.stretches(trusted_minutes("cooling"))), starts_c)
    began = passed.earliest if passed else line.reaches(starts_c)
    if began is None:
        return ()
    return tuple(_foreseen(line, log, check, began) for check in checkpoints(place))


def _foreseen(line: Line, log: TemperatureLog, check: Checkpoint, began: float) -> Foreseen:
    assert check.most_c is not None
    met = next((minute for minute, c in log.readings if minute > began and c <= check.most_c), None)
    at = line.reaches(check.most_c) if met is None else min(met, line.reaches(check.most_c) or met)
    return Foreseen(check, at, began + check.after_minutes)


def _line(log: TemperatureLog, surroundings_c: float) -> Line | None:
    apart = float(table("readings")["forecast"]["apart_minutes"])
    if not log.readings:
        return None
    minute, c = log.readings[-1]
    before = [(m, was) for m, was in log.readings if m <= minute - apart]
    if not before or not before[-1][1] > c > surroundings_c:
        return None
    earlier, was_c = before[-1]
    return Line(minute, c, slope_needed(was_c, c, minute - earlier, surroundings_c), surroundings_c)
