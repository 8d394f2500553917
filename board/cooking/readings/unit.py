"""Readings typed in the other scale: one that only then is likely, or all of a cook by one pair of hands."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.readings.left_out import Why
from board.cooking.readings.limits import Limits
from board.cooking.readings.numbers import number
from board.house.degrees import F_A_KELVIN, F_AT_NOUGHT_C

Floats = NDArray[np.float64]
Marks = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Mistyped:
    """Which readings do not count, what they were taken for, and what each means, °C."""

    bad: Marks
    why: Why
    meant_c: Floats


def in_the_wrong_unit(limits: Limits, minutes: Floats, core: Floats) -> Marks:
    """Readings below any likely core that are a likely one when taken for °C."""
    near = abs(_if_celsius(core) - limits.usual(minutes)) <= number("meaning", "fits_k")
    return np.asarray((core < limits.lowest(minutes)) & near)


def all_mistyped(limits: Limits, minutes: Floats, core: Floats) -> Mistyped | None:
    """Whether nearly all were typed in the other scale: unlikely as they stand, and likely turned into it.

    One or two tell nothing, nor do many of a short while: a slow core crosses what a quick one would be
    in the other scale. None where they are as they should be.
    """
    unlikely = ~limits.within(minutes, core)
    for why, meant_c in ((Why.FAHRENHEIT, _if_fahrenheit(core)), (Why.CELSIUS, _if_celsius(core))):
        fits = unlikely & limits.within(minutes, meant_c)
        enough = max(number("meaning", "all_readings"), number("meaning", "all_share") * len(core))
        if fits.sum() >= enough and np.ptp(minutes[fits]) >= number("meaning", "all_while") * minutes.max():
            return Mistyped(unlikely, why, meant_c)
    return None


def _if_celsius(core: Floats) -> Floats:
    """What °C typed on a board that takes °F mean."""
    return core * F_A_KELVIN + F_AT_NOUGHT_C


def _if_fahrenheit(core: Floats) -> Floats:
    """What °F typed on a board that takes °C mean."""
    return (core - F_AT_NOUGHT_C) / F_A_KELVIN
