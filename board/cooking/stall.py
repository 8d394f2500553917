"""Finds the stall in a core's curve: nothing in the equations knows of it."""

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Stall

Floats = NDArray[np.float64]

ABOVE_C, BELOW_C = 50.0, 82.0  # a slow start is no stall, nor a slow last approach to the pit's own air
SLOW = 0.25  # of the fastest rise
SHORTEST_MINUTES = 30.0


def stall_in(minutes: Floats, core_c: Floats) -> Stall | None:
    """The longest stretch between 50 and 82 °C where the core rises at under a quarter of its fastest.

    `minutes` and `core_c` run from loading to the pull on a common row of times; None where the slow
    stretch is shorter than half an hour.
    """
    if len(minutes) < 3:
        return None
    rate = np.gradient(core_c, minutes)
    slow = (rate < SLOW * rate.max()) & (core_c > ABOVE_C) & (core_c < BELOW_C)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], slow.astype(int), [0]])))
    stretches = [(first, last - 1) for first, last in edges.reshape(-1, 2)]
    if not stretches:
        return None
    first, last = max(stretches, key=lambda ends: minutes[ends[1]] - minutes[ends[0]])
    if minutes[last] - minutes[first] < SHORTEST_MINUTES:
        return None
    slowest = first + int(rate[first : last + 1].argmin())
    return Stall(float(minutes[first]), float(minutes[last]), float(core_c[slowest]))
