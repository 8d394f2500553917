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

    Flat after the last row; a change inside half a minute keeps its integral.
    """

    celsius: Floats
    integral: Floats

    @property
    def count(self) -> int:
        """How many cooks have air that moves."""
        return int(self.celsius.shape[1])

    @classmethod
    def of(cls, curve: AirCurve | None) -> "PitAirs":
        """One cook's air; no column where it is one setpoint throughout."""
        if curve is None:
            return cls(np.empty((1, 0)), np.empty((1, 0)))
        seconds, knots = 60.0 * np.array(curve.minutes), np.array(curve.celsius)
        gone = np.concatenate([[0.0], np.cumsum(np.diff(seconds) * (knots[1:] + knots[:-1]) / 2)])
        grid = GRID_S * np.arange(np.ceil(seconds[-1] / GRID_S) + 2)
        celsius = np.interp(grid, seconds, knots)
        return cls(celsius[:, None], _integral(grid, seconds, knots, gone)[:, None])

    @classmethod
    def joined(cls, parts: "Sequence[PitAirs]") -> "PitAirs":
        """Several cooks' airs side by side, as long as the longest."""
        rows = max(len(part.celsius) for part in parts)
        longer = [part.until(rows) for part in parts]
        return cls(np.hstack([p.celsius for p in longer]), np.hstack([p.integral for p in longer]))

    def until(self, rows: int) -> "PitAirs":
        """The same air told for so many rows."""
        more = rows - len(self.celsius)
        celsius = np.vstack([self.celsius, np.repeat(self.celsius[-1:], more, axis=0)])
        on = self.integral[-1:] + GRID_S * np.arange(1, more + 1)[:, None] * self.celsius[-1:]
        return PitAirs(celsius, np.vstack([self.integral, on]))

    def mean(self, curve: Indices, start_s: Floats, step_s: Floats) -> Floats:
        """The mean air of a step, °C, of the column each member lives in."""
        return np.asarray((self._gone(curve, start_s + step_s) - self._gone(curve, start_s)) / step_s)

    def _gone(self, curve: Indices, seconds: Floats) -> Floats:
        """The integral from loading to given seconds, K s."""
        row = np.minimum((seconds / GRID_S).astype(np.intp), len(self.celsius) - 2)
        here, there = self.integral[row, curve], self.integral[row + 1, curve]
        part = seconds / GRID_S - row
        past = np.maximum(part - 1.0, 0.0) * GRID_S * self.celsius[-1, curve]
        return np.asarray(here + (there - here) * np.minimum(part, 1.0) + past)


def _integral(grid: Floats, seconds: Floats, knots: Floats, gone: Floats) -> Floats:
    """The integral of straight lines between knots, at the grid's seconds."""
    low = np.clip(np.searchsorted(seconds, grid, side="right") - 1, 0, len(seconds) - 1)
    since = grid - seconds[low]
    here = np.interp(grid, seconds, knots)
    before = np.where(grid < seconds[0], (grid - seconds[0]) * knots[0], 0.0)
    after = gone[low] + np.where(grid < seconds[0], 0.0, since * (knots[low] + here) / 2)
    start = seconds[0] * knots[0]
    return np.asarray(start + np.where(grid < seconds[0], before, after))
