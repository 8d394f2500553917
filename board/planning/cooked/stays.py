"""When a core has stayed at a temperature as long as a rule asks."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from board.cooking.resting import CoreCourse

Floats = NDArray[np.float64]


def met_minute(course: CoreCourse, core_c: float, minutes: float) -> float:
    """The minute from loading at which a core has stayed so long at or above a temperature, °C.

    Infinite where it never does. Time in one stretch counts, not several together.
    """
    for begin, end in _stretches(course.minutes, course.core_c, core_c):
        if end - begin >= minutes:
            return begin + minutes
    return float("inf")


def _stretches(minutes: Floats, core_c: Floats, at_c: float) -> Iterator[tuple[float, float]]:
    """From when to when a core is at or above a temperature, in order, straight between its minutes."""
    hot = core_c >= at_c
    begins = np.flatnonzero(hot & ~np.r_[False, hot[:-1]])
    ends = np.flatnonzero(hot & ~np.r_[hot[1:], False])
    for first, last in zip(begins.tolist(), ends.tolist(), strict=True):
        begin = _crossing(minutes, core_c, at_c, first - 1, first)
        yield begin, _crossing(minutes, core_c, at_c, last + 1, last)


def _crossing(minutes: Floats, core_c: Floats, at_c: float, outside: int, inside: int) -> float:
    """When the core passes a temperature between two neighbours; at the inner one at either end."""
    if not 0 <= outside < minutes.size:
        return float(minutes[inside])
    part = (at_c - core_c[outside]) / (core_c[inside] - core_c[outside])
    return float(minutes[outside] + part * (minutes[inside] - minutes[outside]))
