"""How uneven a pit is, from how long its last piece trails its first.

The slowest and the fastest of N alike pieces lie a range apart whose mean and spread, in standard deviations
of one piece, depend on N alone. A piece departs by its mass, its girth and its place; what mass and girth do
not explain is the pit's. Its unevenness is looked for on a grid about its kind's by the likelihood of ranges.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from board.cooking.learning.runs import Ran
from board.cooking.learning.shares import record
from board.cooking.sampling import PIECE_RADIUS_SD, SPOTS_SD, lot_sd, spread_at
from board.house.library import pit_prior
from board.house.past import PastCook
from board.house.spans import Span

Floats = NDArray[np.float64]

GRID = np.linspace(-3.5, 3.5, 57)  # standard deviations of the kind's own spread
DRAWS = 2000
MOST_PIECES = 60  # ranges hardly grow beyond


@dataclass(frozen=True, slots=True)
class Evenness:
    """The difference between a pit's hottest and coldest place, K, and how many cooks told of it."""

    kelvin: Span
    cooks: int


def evenness_of(ran: Sequence[Ran]) -> dict[str, Evenness]:
    """The evenness of each pit one of whose cooks tells when its first piece came off."""
    found: dict[str, list[tuple[Ran, PastCook]]] = {}
    for each in ran:
        if not each.slopes.pieces.all():
            continue  # the sums bring its middling cook, or one beside it, to no end
        for cook, ln in zip(each.group.cooks, each.expected, strict=True):
            if cook.pieces > 1 and cook.first_minutes is not None and not np.isnan(ln):
                found.setdefault(each.group.pit.id, []).append((each, cook))
    return {pit: _looked_for(told) for pit, told in found.items()}


def _looked_for(told: Sequence[tuple[Ran, PastCook]]) -> Evenness:
    """The posterior of one pit's unevenness, from its kind's spread and the ranges of its cooks."""
    uneven = spread_at(pit_prior(told[0][0].group.pit.kind).unevenness_c, GRID)
    fits = -0.5 * GRID**2 + sum(_fits(uneven, *each) for each in told)
    weight = np.exp(fits - fits.max())
    share = (np.cumsum(weight) - 0.5 * weight) / weight.sum()
    p10, p50, p90 = np.interp((0.1, 0.5, 0.9), share, uneven)
    return Evenness(Span(float(p10), float(p50), float(p90)), len(told))


def _fits(uneven: Floats, ran: Ran, cook: PastCook) -> Floats:
    """The log-likelihood of one load's range at each unevenness."""
    trust = record()
    by_mass, by_radius, by_place = ran.slopes.pieces
    meat = (by_mass * lot_sd(ran.group.cut)) ** 2 + (by_radius * PIECE_RADIUS_SD) ** 2
    one = np.sqrt(meat + (by_place * SPOTS_SD * uneven) ** 2)
    written = trust.minutes_sd * np.sqrt(2.0) / cook.minutes
    assert cook.first_minutes is not None
    seen = max(np.log(cook.minutes / max(cook.first_minutes, 1.0)), written)
    middle, sd = _range_of(min(cook.pieces, MOST_PIECES))
    wide = np.sqrt(sd**2 + (written / seen) ** 2)
    right = np.exp(-0.5 * ((np.log(seen / one) - middle) / wide) ** 2) / wide
    slip = np.exp(-0.5 * ((np.log(seen / one) - middle) / trust.wrong_range_sd) ** 2) / trust.wrong_range_sd
    return np.asarray(np.log((1.0 - trust.wrong) * right + trust.wrong * slip))


@cache
def _range_of(pieces: int) -> tuple[float, float]:
    """Mean and standard deviation of the logarithm of the range of so many standard normals."""
    rng = np.random.Generator(np.random.PCG64(pieces))
    drawn = np.log(np.ptp(rng.standard_normal((DRAWS, pieces)), axis=1))
    return float(drawn.mean()), float(drawn.std())
