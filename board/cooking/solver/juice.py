"""Juice that warming meat presses out: how fast, how that answers to warmth, and what reaches the film."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.solver.columns import Meat, running

Floats = NDArray[np.float64]


@dataclass(slots=True)
class Juice:
    """Juice on its way out.

    `rate` kg/(kg s) a node; `outward` what passes each node outward, its own included, kg/(m² s).
    """

    rate: Floats
    outward: Floats

    @property
    def arriving(self) -> Floats:
        """What reaches the surface, kg/(m² s)."""
        return np.asarray(self.outward[-1])

    def wetting(self, meat: Meat) -> Floats:
        """The part of what arrives that stays on the surface, kg/(m² s); the rest drips at once."""
        return np.asarray(self.arriving / (1.0 + self.arriving / meat.wicking))

    def wetter(self, meat: Meat) -> Floats:
        """How much of a little more that arrived would stay."""
        return np.asarray((1.0 + self.arriving / meat.wicking) ** -2)


def shrivelled(celsius: Floats, meat: Meat) -> Floats:
    """How far a temperature shrinks the protein in the end, from none to all."""
    share = meat.midpoint - celsius
    share /= meat.width
    np.exp(share, out=share)
    share += 1.0
    return np.asarray(np.divide(1.0, share, out=share))


def juice_of(share: Floats, gone: Floats, meat: Meat, mass: Floats) -> Juice:
    """Juice relaxing towards what the shrinkage asks; `gone` kg/kg left before, `mass` kg/m² a node."""
    rate = meat.expelled * share
    rate -= gone
    np.maximum(rate, 0.0, out=rate)
    rate /= meat.lag
    return Juice(rate, running(rate * mass))


def answer_of(share: Floats, juice: Juice, meat: Meat) -> Floats:
    """How each node's rate grows with its own temperature, 1/(s K)."""
    slope = 1.0 - share
    slope *= share
    slope *= meat.expelled / (meat.width * meat.lag)
    slope *= juice.rate > 0.0
    return np.asarray(slope)
