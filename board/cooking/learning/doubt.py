"""Which records of past cooks are wrong, and how far the loads of each pit scatter.

A record is right, or with a small chance wrong by hours. Its trust is the chance that it is right, given all
the others; a row trusted little says little. How far a pit's loads scatter, against what is assumed, is
looked for on a grid by the likelihood of all rows, drawn to what is assumed.
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
        common = replace(common, scatter=_scatter(common, pits, record.scatter_sd))
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


def _scatter(common: Common, pits: Sequence[str], sd: float) -> Floats:
    """The scatter of each row's pit, in variance, against what is assumed.

    First all pits as one, drawn to what is assumed; then each alone, drawn to that.
    """
    ones = np.ones(len(pits))
    house = _likely(common, ones, np.ones(len(pits), dtype=bool), sd)
    found = house * ones
    for pit in sorted(set(pits)):
        here = np.array([name == pit for name in pits])
        found = np.where(here, house * _likely(common, house * ones, here, sd / 2.0), found)
    return np.asarray(found)


def _likely(common: Common, scatter: Floats, rows: NDArray[np.bool_], sd: float) -> float:
    """The geometric mean of what to multiply the scatter of some rows with, its logarithm drawn to nought."""
    fits = np.array([log_likelihood(common, np.where(rows, f * scatter, scatter)) for f in FACTORS])
    weight = fits - 0.5 * (np.log(FACTORS) / sd) ** 2
    weight = np.exp(weight - weight.max())
    return float(np.exp(weight @ np.log(FACTORS) / weight.sum()))
