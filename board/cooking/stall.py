"""Finds the stall in a core's curve: nothing in the equations knows of it."""

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Stall
from board.cooking.tables import number

Floats = NDArray[np.float64]


def _told(name: str) -> float:
    """A number of data/stall.toml."""
    return number("stall", "stall", name)


def stall_in(minutes: Floats, core_c: Floats) -> Stall | None:
    """The stretch about the slowest rise between 50 and 82 °C, where the core hardly moves.

    `minutes` and `core_c` run from loading to the pull on a common row of times; None where no rise there
    is slow against the fastest, or the slow stretch is shorter than half an hour.
    """
    if len(minutes) < 3:
        return None
    rate = np.maximum(_smooth(np.gradient(core_c, minutes), minutes[1] - minutes[0]), 0.0)
    within = (core_c > _told("above_c")) & (core_c < _told("below_c"))
    if not within.any():
        return None
    slowest = int(np.flatnonzero(within)[rate[within].argmin()])
    if rate[slowest] > min(_told("slow") * rate.max(), _told("slow_k_h") / 60.0):
        return None
    first, last = _about(slowest, within & (rate <= _nearly(rate[slowest], rate.max())))
    if minutes[last] - minutes[first] < _told("shortest_minutes"):
        return None
    return Stall(float(minutes[first]), float(minutes[last]), float(core_c[slowest]))


def _smooth(rate: Floats, every_minutes: float) -> Floats:
    """The mean rate over some twelve minutes, ends repeated: the middle of many cores is a little rough."""
    half = round(_told("smooth_minutes") / every_minutes / 2)
    padded = np.pad(rate, half, mode="edge")
    return np.convolve(padded, np.full(2 * half + 1, 1.0 / (2 * half + 1)), mode="valid")


def _nearly(slowest: float, fastest: float) -> float:
    """The rise that still counts as standing; a core that stands quite still may creep a little."""
    return max(_told("near_slowest") * slowest, _told("creep") * fastest)


def _about(place: int, slow: NDArray[np.bool_]) -> tuple[int, int]:
    """The ends of the slow stretch that holds a place."""
    before = np.flatnonzero(~slow[:place])
    after = np.flatnonzero(~slow[place:])
    first = int(before[-1]) + 1 if before.size else 0
    return first, place + int(after[0]) - 1 if after.size else len(slow) - 1
