"""What the core of a cook can read at all: the bounds that physics and the members' own paths set."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import AirCurve, Cook, Estimate
from board.cooking.errors import CookingError
from board.cooking.physics.air import boiling_c, pressure_pa
from board.cooking.readings.numbers import number
from board.cooking.readings.paths import to_the_end

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Limits:
    """Bounds of one cook's core.

    `minutes` with `lowest_c`, `usual_c` and `highest_c` are the members' slowest, middle and fastest core;
    `steepest_k_min` the fastest rise of any; `air` and `setpoint_c` the pit's air.
    """

    start_c: float
    boiling_c: float
    setpoint_c: float
    air: AirCurve | None
    minutes: Floats
    lowest_c: Floats
    usual_c: Floats
    highest_c: Floats
    steepest_k_min: float

    def highest(self, minute: Floats) -> Floats:
        """The hottest a core can be, °C: the fastest member's, sped up, and never above boiling."""
        sped = np.interp(minute * number("pace", "quicker"), self.minutes, self.highest_c)
        return np.asarray(np.minimum(sped + number("probe", "start_k"), self.hottest_c))

    def lowest(self, minute: Floats) -> Floats:
        """The coldest a core is likely to be, °C: the slowest member's, slowed down."""
        slowed = np.interp(minute / number("pace", "quicker"), self.minutes, self.lowest_c)
        return np.asarray(slowed - number("probe", "start_k"))

    def within(self, minute: Floats, core_c: Floats) -> NDArray[np.bool_]:
        """Whether cores lie among the members', or as near as a start and a probe may differ."""
        low = np.interp(minute, self.minutes, self.lowest_c) - number("probe", "start_k")
        high = np.interp(minute, self.minutes, self.highest_c) + number("probe", "start_k")
        return np.asarray((core_c >= low) & (core_c <= high))

    def usual(self, minute: Floats) -> Floats:
        """The middle member's core, °C."""
        return np.interp(minute, self.minutes, self.usual_c)

    @property
    def hottest_c(self) -> float:
        """What no wet core passes."""
        return self.boiling_c + number("probe", "boiling_k")

    @property
    def coldest_c(self) -> float:
        """What no core on a pit falls below."""
        return self.start_c - number("probe", "start_k")

    def air_c(self, minute: Floats) -> Floats:
        """The pit's air, °C."""
        if self.air is None:
            return np.full_like(minute, self.setpoint_c)
        return self.air.over(minute)

    def least_rise(self, core_c: float, minutes: float) -> float:
        """What even the slowest member rises from a core in so many minutes, K; 0 in a cold pit."""
        at = self.minutes[int((self.lowest_c >= core_c).argmax())]
        begin, end = np.interp((at, at + minutes), self.minutes, self.lowest_c)
        warm = self.air is None or min(self.air.celsius) > core_c
        return float(end - begin) if warm and self.lowest_c.max() >= core_c else 0.0

    @property
    def rise_k_min(self) -> float:
        """How fast a core may rise, K a minute."""
        return number("pace", "steeper") * self.steepest_k_min


def limits_of(cook: Cook, estimate: Estimate) -> Limits:
    """The bounds of a cook from its estimate, which must have been made with `curves`."""
    paths = estimate.paths
    if paths is None:
        raise CookingError("an estimate must keep its members' paths before readings can be sieved")
    core = to_the_end(paths.core)
    rise = np.diff(core, axis=1) / (paths.minutes[1] - paths.minutes[0])
    return Limits(
        start_c=cook.start_c,
        boiling_c=boiling_c(pressure_pa(cook.altitude_m)),
        setpoint_c=cook.setpoint_c,
        air=cook.air,
        minutes=paths.minutes,
        lowest_c=core.min(axis=0),
        usual_c=np.median(core, axis=0),
        highest_c=core.max(axis=0),
        steepest_k_min=float(rise.max()),
    )
