"""Narrows an estimate by the readings taken so far.

Each member already knows its own path and its own end. The readings are averaged in a few blocks, finer
near now; members whose blocks lie nearest are kept, and the logarithm of their remaining time is regressed
on their blocks. Weighing the members by likelihood instead collapses on a handful after some twenty readings.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Estimate
from board.cooking.errors import CookingError
from board.cooking.readings.numbers import number
from board.cooking.readings.paths import means_at, to_the_end
from board.house.spans import Span

Floats = NDArray[np.float64]

BLOCK_EDGES = np.array([0.0, 0.02, 0.06, 0.13, 0.24, 0.40, 0.60, 0.80, 1.0])  # of the time so far, back
NEAREST = 0.35
FEWEST = 24
AGE_WEIGHT = 0.7  # of each older block against the next newer
RIDGE = 0.05
UNLIKE = "it runs unlike the cooks expected: the span is widened"
PROBE_C = (-30.0, 130.0)


@dataclass(frozen=True, slots=True)
class Revision(Span):
    """The whole cook's minutes after readings; `warning` says when it is only a guess, and why."""

    warning: str | None = None


@dataclass(frozen=True, slots=True)
class _Readings:
    """Readings in order of time."""

    minutes: Floats
    core_c: Floats

    @property
    def now(self) -> float:
        """Minutes from loading to the last one."""
        return float(self.minutes[-1])


def revise(estimate: Estimate, readings: Sequence[tuple[float, float]], *, seed: int = 0) -> Revision:
    """The whole cook's minutes, given (minutes from loading, core °C) readings.

    `estimate` must have been made with `curves`. The answer always comes; a `warning` stands with it where
    the cook is unlike every member. Raises CookingError for readings no core can have.
    """
    if estimate.paths is None:
        raise CookingError("an estimate must keep its members' paths before readings can narrow it")
    taken = _in_order(readings)
    if taken is None:
        return Revision(estimate.minutes.p10, estimate.minutes.p50, estimate.minutes.p90)
    if estimate.paths.done_at_core and taken.core_c[-1] >= estimate.paths.until_core_c:
        done = _first_there(taken, estimate.paths.until_core_c)
        return Revision(done, done, done)
    on = np.flatnonzero(estimate.member_minutes > taken.now + 0.5)
    if len(on) < FEWEST:
        return _by_pace(estimate, taken, "nearly every cook expected would be done by now")
    blocks = _blocks(taken)
    theirs = means_at(estimate.paths, taken.minutes, blocks)[on]
    ours = blocks @ taken.core_c
    if (side := _outside(theirs, ours)) is not None:
        return _by_pace(estimate, taken, f"this cook is {side} than every cook expected")
    noise_sd = np.sqrt(
        number("probe", "sd_k") ** 2 * (blocks**2).sum(axis=1) + number("live", "block_sd_k") ** 2
    )
    noisy = theirs + np.random.default_rng(seed).standard_normal(theirs.shape) * noise_sd
    return _narrowed(taken.now, noisy, ours, np.log(estimate.member_minutes[on] - taken.now))


def _narrowed(now: float, theirs: Floats, ours: Floats, remaining: Floats) -> Revision:
    """The answer from the members still on: wider, and with a warning, for a course unlike theirs."""
    low, middle, high = _regressed(theirs, ours, remaining)
    unlike = _unlike(theirs, ours)
    logs = (middle + unlike * (low - middle), middle, middle + unlike * (high - middle))
    p10, p50, p90 = (now + float(np.exp(log)) for log in logs)
    return Revision(p10, p50, p90, UNLIKE if unlike > number("live", "worth_saying") else None)


def _in_order(readings: Sequence[tuple[float, float]]) -> _Readings | None:
    """The readings as arrays in order of time, the one at loading left out; None when there are none."""
    coldest, hottest = PROBE_C
    for minute, core_c in readings:
        if not coldest <= core_c <= hottest:
            raise CookingError(f"a core reads {coldest:.0f} to {hottest:.0f} °C; got {core_c:.0f} °C")
        if not 0.0 <= minute < np.inf:
            raise CookingError(f"a reading is so long after loading; got minute {minute:g}")
    order = sorted((minute, core_c) for minute, core_c in readings if minute > 0)
    if not order:
        return None
    return _Readings(np.array([m for m, _ in order]), np.array([c for _, c in order]))


def _first_there(taken: _Readings, until_c: float) -> float:
    """The first minute a reading is at the core asked."""
    return float(taken.minutes[np.argmax(taken.core_c >= until_c)])


def _blocks(taken: _Readings) -> Floats:
    """Averaging rows, one a block that holds a reading: newest first."""
    age = (taken.now - taken.minutes) / taken.now
    which = np.searchsorted(BLOCK_EDGES, age, side="right") - 1
    rows = [which == b for b in range(len(BLOCK_EDGES))]
    return np.array([row / row.sum() for row in rows if row.any()])


def _outside(theirs: Floats, ours: Floats) -> str | None:
    """Whether the newest block lies beyond every member, and on which side."""
    if ours[0] < theirs[:, 0].min() - number("live", "outside_k"):
        return "slower"
    if ours[0] > theirs[:, 0].max() + number("live", "outside_k"):
        return "faster"
    return None


def _unlike(theirs: Floats, ours: Floats) -> float:
    """How many times wider to say it: 1 for a course as near the members' middle as 19 of 20 of them are."""
    off = np.vstack([theirs, ours]) - theirs.mean(axis=0)
    spread = np.cov(theirs.T).reshape(len(ours), -1) + 1e-6 * np.eye(len(ours))
    distance = (off @ np.linalg.inv(spread) * off).sum(axis=1)
    ratio = np.sqrt(distance[-1] / np.percentile(distance[:-1], 95))
    return float(np.clip(ratio ** number("live", "unlike_power"), 1.0, number("live", "widest")))


def _regressed(theirs: Floats, ours: Floats, target: Floats) -> Floats:
    """The 10th, 50th and 90th percentile of the target where the features are `ours`.

    Local-linear regression under an Epanechnikov kernel over the nearest members; the spread is that of
    the weighted residuals, widened for the coefficients spent.
    """
    scale = theirs.std(axis=0) + number("live", "block_sd_k")
    apart = (theirs - ours) / scale
    weight = AGE_WEIGHT ** np.arange(len(ours))
    distance = np.sqrt((apart**2 * weight).sum(axis=1) / weight.sum())
    kept = min(max(FEWEST, round(NEAREST * len(distance))), len(distance))
    reach = np.partition(distance, kept - 1)[kept - 1] * 1.001 + 1e-12
    kernel = np.maximum(0.0, 1.0 - (distance / reach) ** 2)
    design = np.hstack([np.ones((len(target), 1)), apart])
    penalty = RIDGE * kernel.sum() * np.diag([0.0, *np.ones(len(ours))])
    weighted = design * kernel[:, None]
    slope = np.linalg.solve(design.T @ weighted + penalty, weighted.T @ target)
    residual = target - design @ slope
    members = kernel.sum() ** 2 / (kernel**2).sum()
    widen = np.sqrt(members / max(members - len(slope), members / 4))
    return np.asarray(slope[0] + widen * _weighted_percentiles(residual, kernel))


def _weighted_percentiles(values: Floats, weights: Floats) -> Floats:
    """The 10th, 50th and 90th percentile of weighted values."""
    order = np.argsort(values, kind="stable")
    share = (np.cumsum(weights[order]) - 0.5 * weights[order]) / weights.sum()
    return np.interp((0.1, 0.5, 0.9), share, values[order])


def _by_pace(estimate: Estimate, taken: _Readings, why: str) -> Revision:
    """A rough answer for a cook unlike every member: each member's course, stretched to this one's pace."""
    paths = estimate.paths
    assert paths is not None
    reached = to_the_end(paths.core) >= taken.core_c[-1]
    at = np.where(reached.any(axis=1), paths.minutes[reached.argmax(axis=1)], estimate.member_minutes)
    at = np.maximum(at, 1.0)
    left = np.maximum(estimate.member_minutes - at, 0.0) * (taken.now / at)
    p10, p50, p90 = np.percentile(left, (10, 50, 90))
    wider = number("live", "widened")
    low, high = max(p50 - wider * (p50 - p10), 0.0), p50 + wider * (p90 - p50)
    return Revision(
        taken.now + low,
        taken.now + float(p50),
        taken.now + high,
        f"{why}: a rough guess from its pace so far",
    )
