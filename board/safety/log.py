"""A record of temperatures, and what it shows of the time spent at or above one.

Between two readings no further apart than a trusted spacing the straight line is taken. A longer
stretch, or one with a reading marked lost, proves only its bounds: nought, or all of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import isfinite
from typing import NamedTuple

from board.errors import BoardError
from board.safety.tables import table


class Stretch(NamedTuple):
    """From one reading to the next: minutes and °C at both ends, and whether the straight line is trusted."""

    from_minute: float
    to_minute: float
    from_c: float
    to_c: float
    trusted: bool


@dataclass(frozen=True)
class TemperatureLog:
    """Readings at rising minutes; a temperature of None marks a known gap.

    `in_fahrenheit` says that they were read in °F, so that limits are taken as printed in °F. Raises
    BoardError when the two lists differ in length, a time does not rise, or a number is not finite.
    """

    minutes: tuple[float, ...]
    temperatures_c: tuple[float | None, ...]
    in_fahrenheit: bool = False

    def __post_init__(self) -> None:
        """Refuse what no sum can be made of."""
        if len(self.minutes) != len(self.temperatures_c):
            raise BoardError(
                f"a record of {len(self.minutes)} times and {len(self.temperatures_c)} temperatures"
            )
        if any(later <= earlier for earlier, later in zip(self.minutes, self.minutes[1:], strict=False)):
            raise BoardError("the times of a record must rise from one reading to the next")
        known = [c for c in self.temperatures_c if c is not None]
        if not all(isfinite(number) for number in (*self.minutes, *known)):
            raise BoardError("times and temperatures of a record must be numbers")

    @cached_property
    def readings(self) -> tuple[tuple[float, float], ...]:
        """(minute, °C) of every reading that is there."""
        pairs = zip(self.minutes, self.temperatures_c, strict=True)
        return tuple((minute, c) for minute, c in pairs if c is not None)

    @property
    def unread_from(self) -> float | None:
        """The first minute where the record begins with a reading that was lost; None where it does not."""
        return self.minutes[0] if self.minutes and self.temperatures_c[0] is None else None

    @property
    def has_lost_end(self) -> bool:
        """Whether the record begins or ends with a reading that was lost."""
        return bool(self.minutes) and None in (self.temperatures_c[0], self.temperatures_c[-1])

    def stretches(self, trusted_minutes: float) -> Iterator[Stretch]:
        """The stretches between neighbouring readings; not trusted across a gap or when further apart."""
        before: tuple[float, float] | None = None
        lost = False
        for minute, c in zip(self.minutes, self.temperatures_c, strict=True):
            if c is None:
                lost = True
                continue
            if before is not None:
                near = minute - before[0] <= trusted_minutes + slack_s() / 60.0
                yield Stretch(before[0], minute, before[1], c, near and not lost)
            before, lost = (minute, c), False


class Shown(NamedTuple):
    """The longest unbroken time at or above a temperature: what is shown, and what gaps may hide."""

    least_s: float
    most_s: float


def held(stretches: tuple[Stretch, ...], at_c: float) -> Shown:
    """Seconds without a break at or above `at_c`: the least shown, and the most there can have been."""
    floor = at_c - slack_k()
    least = most = longest_least = longest_most = 0.0
    for start, end, from_c, to_c, trusted in stretches:
        length = end - start
        starts = from_c >= floor
        if trusted:
            part = _part_above(length, from_c - floor, to_c - floor)
            least, most = (least if starts else 0.0) + part, (most if starts else 0.0) + part
        else:
            least, most = 0.0, (most if starts else 0.0) + length
        longest_least, longest_most = max(longest_least, least), max(longest_most, most)
    return Shown(60.0 * longest_least, 60.0 * longest_most)


def total(stretches: tuple[Stretch, ...], at_c: float) -> Shown:
    """Seconds at or above `at_c` in all, without the breaks: the least shown, and the most there can be."""
    floor = at_c - slack_k()
    shown = hidden = 0.0
    for start, end, from_c, to_c, trusted in stretches:
        if trusted:
            shown += _part_above(end - start, from_c - floor, to_c - floor)
        else:
            hidden += end - start
    return Shown(60.0 * shown, 60.0 * (shown + hidden))


def until(stretches: tuple[Stretch, ...], minute: float) -> tuple[Stretch, ...]:
    """The stretches as far as a minute; one that goes on beyond it is cut there, on its straight line."""
    return tuple(_cut(s, minute) for s in stretches if s.from_minute < minute)


def since(stretches: tuple[Stretch, ...], minute: float) -> tuple[Stretch, ...]:
    """The stretches from a minute on; one that began before it begins there, on its straight line."""
    reversed_ = until(tuple(_backward(s) for s in stretches), -minute)
    return tuple(_backward(s) for s in reversed_)


def _backward(stretch: Stretch) -> Stretch:
    return Stretch(-stretch.to_minute, -stretch.from_minute, stretch.to_c, stretch.from_c, stretch.trusted)


def _cut(stretch: Stretch, minute: float) -> Stretch:
    if stretch.to_minute <= minute:
        return stretch
    share = (minute - stretch.from_minute) / (stretch.to_minute - stretch.from_minute)
    at_c = stretch.from_c + share * (stretch.to_c - stretch.from_c)
    return Stretch(stretch.from_minute, minute, stretch.from_c, at_c, stretch.trusted)


def mirrored(stretches: tuple[Stretch, ...]) -> tuple[Stretch, ...]:
    """The stretches upside down, so that time at or below a temperature is time at or above its negative."""
    return tuple(Stretch(s.from_minute, s.to_minute, -s.from_c, -s.to_c, s.trusted) for s in stretches)


def _part_above(length: float, start_k: float, end_k: float) -> float:
    """The part of a straight line's length on which it is not below nought, from its heights at both ends."""
    if start_k >= 0.0 and end_k >= 0.0:
        return length
    if start_k < 0.0 and end_k < 0.0:
        return 0.0
    return length * max(start_k, end_k) / abs(start_k - end_k)


def trusted_minutes(use: str) -> float:
    """The longest stretch, minutes, over which the line is taken: for cooking, cooling or holding."""
    return float(table("readings")["trusted"][f"{use}_minutes"])


def bent_minutes() -> float:
    """The stretch, minutes, beyond which cooling food leaves the straight line by more than a minute."""
    return float(table("readings")["bent"]["minutes"])


def slack_k() -> float:
    """Kelvins below a limit that are the noise of a sum and not a reading."""
    return float(table("readings")["slack"]["k"])


def slack_s() -> float:
    """Seconds short of a time that are the noise of a sum and not a record."""
    return float(table("readings")["slack"]["s"])
