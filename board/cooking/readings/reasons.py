"""Why a reading is left out: the likeliest fault, judged by the readings that are kept."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.readings.left_out import LeftOut, Why
from board.cooking.readings.limits import Limits
from board.cooking.readings.numbers import number
from board.cooking.tables import room_c
from board.house.degrees import to_celsius, to_fahrenheit

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Kept:
    """The readings that count, in order of time, to judge another by."""

    minutes: Floats
    core_c: Floats
    limits: Limits

    def here_c(self, minute: float) -> float:
        """What the core likely was at a minute: between readings, beyond them along the middle member."""
        usual = self.limits.usual(np.array([minute]))[0]
        if not len(self.minutes):
            return float(usual)
        if self.minutes[0] <= minute <= self.minutes[-1]:
            return float(np.interp(minute, self.minutes, self.core_c))
        nearest = abs(self.minutes - minute).argmin()
        return float(self.core_c[nearest] + usual - self.limits.usual(self.minutes[nearest]))


def reason(place: int, minute: float, core_c: float, kept: Kept) -> LeftOut:
    """A reading that no core can have given beside those kept, with the likeliest fault."""
    here = kept.here_c(minute)
    for why, meant in (
        (Why.FAHRENHEIT, to_celsius(core_c)),
        (Why.CELSIUS, to_fahrenheit(core_c)),
    ):
        if minute > 0.0 and abs(meant - here) <= number("meaning", "fits_k") < abs(core_c - here):
            return LeftOut(place, minute, core_c, why, meant)
    if minute == 0.0:
        return LeftOut(place, minute, core_c, Why.NOT_THE_START)
    if minute in kept.minutes:
        return LeftOut(place, minute, core_c, Why.TWO_AT_ONCE)
    why = _too_high(minute, core_c, kept) if core_c > here else _too_low(core_c, here, kept)
    return LeftOut(place, minute, core_c, why)


def _too_high(minute: float, core_c: float, kept: Kept) -> Why:
    """Pit air, boiling, a place that is not the coldest, or a jump."""
    limits, at = kept.limits, np.array([minute])
    if abs(core_c - limits.air_c(at)[0]) <= number("meaning", "air_k"):
        return Why.PIT_AIR
    if core_c > limits.hottest_c:
        return Why.ABOVE_BOILING
    if (kept.core_c[kept.minutes > minute] < core_c).any():
        return Why.NOT_COLDEST
    return Why.TOO_FAST if core_c > limits.highest(at)[0] else Why.JUMP


def _too_low(core_c: float, here_c: float, kept: Kept) -> Why:
    """The room's air, below the start, or a drop."""
    near = number("meaning", "air_k")
    if here_c - near > core_c and abs(core_c - room_c()) <= near:
        return Why.ROOM_AIR
    return Why.BELOW_START if core_c < kept.limits.coldest_c else Why.DROP
