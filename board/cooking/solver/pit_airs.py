"""The air of pits in time, as running integrals, so that a step of any length meets its true mean."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import AirCurve

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]

GRID_S = 30.0


@dataclass(frozen=True, slots=True)
class PitAirs:
    """Air temperatures (°C) each half minute and their running integrals (K s), a column a cook.

    Flat after each column's `last` row, whatever longer one stands beside it; a change inside half a minute
    keeps its integral.
    """

    celsius: Floats
    integral: Floats
    last: Indices

    @property
    def count(self) -> int:
        """How many cooks have air that moves."""
        return int(self.celsius.shape[1])

    @classmethod
    def of(cls, curve: AirCurve | None) -> "PitAirs":
        """One cook's air; no column where it is one setpoint throughout."""
        if curve is None:
            return cls(np.empty((1, 0)), np.empty((1, 0)), np.empty(0, dtype=np.intp))
        seconds, knots = 60.0 * np.array(curve.minutes), np.array(curve.celsius)
        gone = np.concatenate([[0.0], np.cumsum(np.diff(seconds) * (knots[1:] + knots[:-1]) / 2)])
        grid = GRID_S * np.arange(np.ceil(seconds[-1] / GRID_S) + 2)
        celsius = np.interp(grid, seconds, knots)
        return cls(
            celsius[:, None], _integral(grid, seconds, knots, gone)[:, None], np.array([len(grid) - 1])
        )

    @classmethod
    def joined(cls, parts: "Sequence[PitAirs]") -> "PitAirs":
        """Several cooks' airs side by side, as long as the longest."""
        rows = max(len(part.celsius) for part in parts)
        return cls(
            np.hstack([_padded(part.celsius, rows) for part in parts]),
            np.hstack([_padded(part.integral, rows) for part in parts]),
            np.concatenate([part.last for part in parts]),
        )

    def mean(self, curve: Indices, start_s: Floats, step_s: Floats) -> Floats:
        """The mean air of a step, °C, of the column each member lives in."""
        return np.asarray((self._gone(curve, start_s + step_s) - self._gone(curve, start_s)) / step_s)

    def _gone(self, curve: Indices, seconds: Floats) -> Floats:
        """The integral from loading to given seconds, K s."""
        last = self.last[curve]
        row = np.minimum((seconds / GRID_S).astype(np.intp), last - 1)
        here, there = self.integral[row, curve], self.integral[row + 1, curve]
        part = seconds / GRID_S - row
        past = np.maximum(part - 1.0, 0.0) * GRID_S * self.celsius[last, curve]
        return np.asarray(here + (there - here) * np.minimum(part, 1.0) + past)


def _padded(column: Floats, rows: int) -> Floats:
    """A table with so many rows, those after its end never looked at."""
    return np.pad(column, ((0, rows - len(column)), (0, 0)))


def _integral(grid: Floats, seconds: Floats, knots: Floats, gone: Floats) -> Floats:
    """The integral of straight lines between knots, at the grid's seconds."""
    low = np.clip(np.searchsorted(seconds, grid, side="right") - 1, 0, len(seconds) - 1)
    since = grid - seconds[low]
    here = np.interp(grid, seconds, knots)
    before = np.where(grid < seconds[0], (grid - seconds[0]) * knots[0], 0.0)
    after = gone[low] + np.where(grid < seconds[0], 0.0, since * (knots[low] + here) / 2)
    start = seconds[0] * knots[0]
    return np.asarray(start + np.where(grid < seconds[0], before, after))
