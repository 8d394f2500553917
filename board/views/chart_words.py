"""How a chart says its times and temperatures."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil, floor
from zoneinfo import ZoneInfo

from board.house.degrees import celsius_of, shown_step
from board.house.model import Display
from board.house.spans import minutes_between
from board.house.units import format_temperature
from board.house.wording import duration

_TICKS = (5, 10, 20, 25, 50, 100)


@dataclass(frozen=True, slots=True)
class Words:
    """How times and temperatures are said: the house's zone, its clock, its degrees.

    With a `loaded` moment times are what has gone by since then.
    """

    zone: ZoneInfo
    display: Display
    loaded: datetime | None = None

    def clock(self, moment: datetime) -> str:
        """A time of day, short, or how long after loading."""
        if self.loaded is not None:
            return duration(minutes_between(self.loaded, moment))
        local = moment.astimezone(self.zone)
        if self.display.clock_hours == 12:
            return f"{(local.hour - 1) % 12 + 1}:{local.minute:02d}{'a' if local.hour < 12 else 'p'}"
        return f"{local:%H:%M}"

    def hours(self, start: datetime, end: datetime, every: int) -> Iterator[tuple[datetime, str]]:
        """The whole hours of the axis, every so many, with what they are called."""
        if self.loaded is not None:
            count = int((end - self.loaded) / timedelta(hours=1))
            yield from ((self.loaded + timedelta(hours=h), f"{h} h") for h in range(0, count + 1, every))
            return
        local = start.astimezone(self.zone)
        moment = start + timedelta(minutes=(60 - local.minute) % 60, seconds=-local.second)
        while moment < end:
            hour = moment.astimezone(self.zone).hour
            if hour % every == 0:
                yield moment, self._hour(hour)
            moment += timedelta(hours=1)

    def _hour(self, hour: int) -> str:
        if self.display.clock_hours == 12:
            return f"{(hour - 1) % 12 + 1}{'a' if hour < 12 else 'p'}"
        return f"{hour:02d}"

    def degrees(self, celsius: float) -> str:
        """A temperature without its unit."""
        return format_temperature(celsius, self.display, unit=False)

    def ticks(self, low_c: float, high_c: float, apart_k: float) -> list[float]:
        """Temperatures from low to high that are round in the house's degrees, at least so far apart."""
        one_k, nought_c = shown_step(1.0, self.display), celsius_of(0.0, self.display)
        step = next((tick for tick in _TICKS if tick >= apart_k * one_k), _TICKS[-1])
        first, last = ((celsius - nought_c) * one_k / step for celsius in (low_c, high_c))
        return [nought_c + k * step / one_k for k in range(ceil(first), floor(last) + 1)]
