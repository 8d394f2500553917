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

from board.cooking.learning.shares import LASTING, LOAD, Shares

Floats = NDArray[np.float64]
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

    `trust` is the chance that a row is no slip, `scatter` how its pit's loads vary against what is assumed,
    in variance; `unlike` how far what lasts in this house varies against that.
    """

    told: Floats
    lasting: Floats
    load: Floats
    noise: Floats
    trust: Floats
    scatter: Floats
    unlike: float = 1.0

    @classmethod
    def of(cls, rows: Rows) -> "Common":
        """Every row trusted, loads scattering as assumed."""
        lasting = reduce(add, (_together(rows, level) for level in LASTING))
        ones = np.ones(len(rows.told))
        return cls(rows.told, lasting, _together(rows, LOAD), rows.noise, ones, ones)

    @property
    def passing(self) -> Floats:
        """What is new with each load, and noise; more for rows trusted less."""
        wide = np.sqrt(self.scatter / self.trust)
        return np.asarray(self.load * np.outer(wide, wide) + np.diag(self.noise / self.trust))

    @property
    def whole(self) -> Floats:
        """Everything together."""
        return np.asarray(self.unlike * self.lasting + self.passing)

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
    solved = np.linalg.solve(common.whole, np.column_stack([rows.told, across.T]))
    left = prior - across @ solved[:, 1:]
    return Belief(np.asarray(across @ solved[:, 0]), np.asarray((left + left.T) / 2.0))


def left_out(common: Common) -> tuple[Floats, Floats]:
    """Each row's residual against all the others, and its variance were it trusted."""
    inverse = np.linalg.inv(common.whole)
    own = np.diag(inverse)
    unknown = np.maximum(1.0 / own - np.diag(common.passing), 0.0)
    return np.asarray(inverse @ common.told / own), np.asarray(unknown + common.trusted)


def log_likelihood(common: Common) -> float:
    """Of all rows together, but for a constant."""
    factor = np.linalg.cholesky(common.whole)
    white = np.linalg.solve(factor, common.told)
    return float(-0.5 * white @ white - np.log(np.diag(factor)).sum())


def _together(rows: Rows, level: str) -> Floats:
    """Covariance of the rows through the parts of one level."""
    _, which = np.unique([key[level] for key in rows.keys], return_inverse=True)
    same = which[:, None] == which[None, :]
    return np.asarray(same * ((rows.slopes * rows.shares.by[level]) @ rows.slopes.T))
