"""Sharing out what was observed among everything that could explain it.

Each row is one number a cook told: what was observed less what the model says, which is `slopes` times the
cook's departures (in standard deviations of their priors) and noise. A departure is a sum of parts that
belong to the house, the kind of pit, the pit, the cut and the load, by `Shares`; two rows have in common the
parts they share a key of. So everything is jointly Gaussian, and the posterior is that of a linear mixed
model in closed form (Rasmussen & Williams, Gaussian Processes for Machine Learning, 2006, eq. 2.23–2.24;
residuals against all others eq. 5.12).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import reduce
from operator import add

import numpy as np
from numpy.typing import NDArray

from board.cooking.learning.inverse import Inverse, by_size, inverted
from board.cooking.learning.shares import LASTING, LOAD, Shares

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]
Keys = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Rows:
    """What past cooks told, as rows by departures.

    `told` is observed less expected with all departures nought; `noise` the variance of what is no departure;
    `keys` name each row's house, kind, pit, cut and load.
    """

    shares: Shares
    slopes: Floats
    told: Floats
    noise: Floats
    keys: tuple[Keys, ...]


@dataclass(frozen=True, slots=True)
class Common:
    """How rows vary together: through what lasts, through their load, and each alone.

    `lasting` is the covariance of the kinds of rows, those alike in all that lasts, and `kind` which each row
    is of; `load` the covariance of rows, `loads` the rows of each load, by its size. `trust` is the chance
    that a row is no slip, `scatter` how its pit's loads vary against what is assumed, in variance; `unlike`
    how far what lasts in this house varies against that.
    """

    told: Floats
    lasting: Floats
    kind: Indices
    load: Floats
    loads: tuple[Indices, ...]
    noise: Floats
    trust: Floats
    scatter: Floats
    unlike: float = 1.0

    @classmethod
    def of(cls, rows: Rows) -> "Common":
        """Every row trusted, loads scattering as assumed."""
        first, kind = _kinds(rows)
        _, load = np.unique([key[LOAD] for key in rows.keys], return_inverse=True)
        return cls(
            told=rows.told,
            lasting=reduce(add, (_together(_some(rows, first), level) for level in LASTING)),
            kind=kind,
            load=_together(rows, LOAD),
            loads=by_size(load),
            noise=rows.noise,
            trust=np.ones(len(rows.told)),
            scatter=np.ones(len(rows.told)),
        )

    @property
    def inverse(self) -> Inverse:
        """The inverse of the covariance of everything together; a row trusted less counts as wider."""
        wide = np.sqrt(self.scatter / self.trust)
        parts = []
        for block in self.loads:
            part = self.load[block[:, :, None], block[:, None, :]] * wide[block][:, :, None]
            part *= wide[block][:, None, :]
            own = np.arange(block.shape[1])
            part[:, own, own] += (self.noise / self.trust)[block]
            parts.append((block, part))
        return inverted(parts, self.kind, self.unlike * self.lasting)

    @property
    def trusted(self) -> Floats:
        """The variance of what is new with each row, were it trusted."""
        return np.asarray(self.scatter * np.diag(self.load) + self.noise)


@dataclass(frozen=True, slots=True)
class Belief:
    """The lasting departures of one house, kind, pit and cut: their mean and covariance."""

    mean: Floats
    covariance: Floats


def believed(rows: Rows, common: Common, keys: Keys) -> Belief:
    """What the rows say of the lasting departures under these keys; the prior where there are none."""
    prior = common.unlike * np.diag(rows.shares.lasting)
    if not rows.keys:
        return Belief(np.zeros(len(prior)), prior)
    alike = {level: np.array([float(key[level] == keys[level]) for key in rows.keys]) for level in LASTING}
    parts = (np.outer(rows.shares.by[level], alike[level]) for level in LASTING)
    across = common.unlike * reduce(add, parts) * rows.slopes.T
    solved = common.inverse.times(np.column_stack([rows.told, across.T]))
    left = prior - across @ solved[:, 1:]
    return Belief(np.asarray(across @ solved[:, 0]), np.asarray((left + left.T) / 2.0))


def left_out(common: Common) -> tuple[Floats, Floats]:
    """Each row's residual against all the others, and its variance were it trusted."""
    inverse = common.inverse
    own = inverse.diagonal()
    unknown = np.maximum(1.0 / own - common.trusted / common.trust, 0.0)
    return np.asarray(_times(inverse, common.told) / own), np.asarray(unknown + common.trusted)


def log_likelihood(common: Common) -> float:
    """Of all rows together, but for a constant."""
    inverse = common.inverse
    return float(-0.5 * (common.told @ _times(inverse, common.told) + inverse.log_det))


def _times(inverse: Inverse, told: Floats) -> Floats:
    """The inverse times one column."""
    return np.asarray(inverse.times(told[:, None])[:, 0])


def _kinds(rows: Rows) -> tuple[Indices, Indices]:
    """The first row of each kind, and which kind each row is of: alike in slopes and all that lasts."""
    found: dict[tuple[object, ...], int] = {}
    keys = [
        (slopes.tobytes(), *(key[level] for level in LASTING))
        for slopes, key in zip(rows.slopes, rows.keys, strict=True)
    ]
    kind = [found.setdefault(key, len(found)) for key in keys]
    first = [kind.index(n) for n in range(len(found))]
    return np.array(first, dtype=np.intp), np.array(kind, dtype=np.intp)


def _some(rows: Rows, which: Indices) -> Rows:
    """Some of the rows."""
    keys = tuple(rows.keys[n] for n in which)
    return Rows(rows.shares, rows.slopes[which], rows.told[which], rows.noise[which], keys)


def _together(rows: Rows, level: str) -> Floats:
    """Covariance of the rows through the parts of one level."""
    _, which = np.unique([key[level] for key in rows.keys], return_inverse=True)
    same = which[:, None] == which[None, :]
    return np.asarray(same * ((rows.slopes * rows.shares.by[level]) @ rows.slopes.T))
