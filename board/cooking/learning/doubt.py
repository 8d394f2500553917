"""Which records of past cooks are wrong, and how far the loads of each pit scatter.

A record is right, or with a small chance wrong by hours. Its trust is the chance that it is right, given all
the others; a row trusted little says little. How far a house's pits and cuts are unlike the usual, and how
far its loads scatter, is looked for on a grid by the likelihood of all rows, drawn to what is assumed.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.learning.gaussian import Common, left_out, log_likelihood
from board.cooking.learning.shares import Record

Floats = NDArray[np.float64]

SCATTER_ROUNDS, TRUST_ROUNDS, STEADY = 2, 12, 0.01
LEAST_TRUST = 1e-6
FACTORS = np.exp(np.linspace(-1.5, 2.0, 11))


def settled(common: Common, pits: Sequence[str], wild_sd: Floats, record: Record) -> Common:
    """With trust and scatter found; `wild_sd` is how far each row may lie when wrong, in its own unit."""
    for _ in range(SCATTER_ROUNDS):
        common = _doubted(common, wild_sd, record.wrong)
        common = _scattered(common, pits, record)
    return _doubted(common, wild_sd, record.wrong)


def _doubted(common: Common, wild_sd: Floats, wrong: float) -> Common:
    """With the trust in each row, once it no longer changes."""
    for _ in range(TRUST_ROUNDS):
        before, common = common, replace(common, trust=_trust(common, wild_sd, wrong))
        if np.abs(common.trust - before.trust).max() < STEADY:
            break
    return common


def _trust(common: Common, wild_sd: Floats, wrong: float) -> Floats:
    """The chance that each row is right, given the others."""
    residual, variance = left_out(common)
    right = np.log1p(-wrong) + _log_normal(residual, variance)
    slip = np.log(wrong) + _log_normal(residual, variance + wild_sd**2)
    return np.asarray(np.maximum(1.0 / (1.0 + np.exp(np.clip(slip - right, -50.0, 50.0))), LEAST_TRUST))


def _log_normal(x: Floats, variance: Floats) -> Floats:
    """Logarithm of a normal density about nought, but for a constant."""
    return np.asarray(-0.5 * (x**2 / variance + np.log(variance)))


def _scattered(common: Common, pits: Sequence[str], record: Record) -> Common:
    """With how far what lasts varies in this house, and how far its loads do.

    Loads scatter by their house first, drawn to what is assumed; then by their pit, drawn to the house.
    """
    common = replace(common, scatter=np.ones(len(pits)), unlike=1.0)
    common = replace(common, unlike=_likely([replace(common, unlike=f) for f in FACTORS], record.unlike_sd))
    house = [replace(common, scatter=f * common.scatter) for f in FACTORS]
    common = replace(common, scatter=_likely(house, record.scatter_sd) * common.scatter)
    found = common.scatter
    for pit in sorted(set(pits)):
        here = np.array([name == pit for name in pits])
        tried = [replace(common, scatter=np.where(here, f * common.scatter, common.scatter)) for f in FACTORS]
        found = np.where(here, _likely(tried, record.scatter_sd / 2.0) * found, found)
    return replace(common, scatter=found)


def _likely(tried: Sequence[Common], sd: float) -> float:
    """The geometric mean of the factors, by the likelihood of what was tried with each, drawn to one."""
    fits = np.array([log_likelihood(each) for each in tried]) - 0.5 * (np.log(FACTORS) / sd) ** 2
    weight = np.exp(fits - fits.max())
    return float(np.exp(weight @ np.log(FACTORS) / weight.sum()))
