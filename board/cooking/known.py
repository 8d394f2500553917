"""What a house's own cooks teach of a cut on a pit, as members are drawn from it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Known:
    """Where departures lie and how they vary together, in the standard deviations of their priors.

    A member's departures z, by `names`, become `middle` + `spread` z; without history `middle` would be
    nought and `spread` the identity. The covariance is `spread` times its transpose.
    """

    names: tuple[str, ...]
    middle: tuple[float, ...]
    spread: tuple[tuple[float, ...], ...]

    def moved(self, normal: dict[str, Floats]) -> dict[str, Floats]:
        """Members' departures after what is known; those of other names stay as they are."""
        drawn = np.array([normal[name] for name in self.names])
        moved = np.array(self.middle)[:, None] + np.array(self.spread) @ drawn
        return normal | dict(zip(self.names, moved, strict=True))
