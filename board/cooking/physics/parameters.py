"""The model's numbers: priors that members are drawn from, fixed values, and what each pit kind adds."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from board.cooking.tables import table
from board.house.model import PitKind

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Prior:
    """A middle value and one standard deviation: of its logarithm (`ratio`) or in its unit."""

    value: float
    sd: float
    ratio: bool

    def at(self, z: Floats) -> Floats:
        """The values so many standard deviations from the middle."""
        return np.asarray(self.value * np.exp(self.sd * z) if self.ratio else self.value + self.sd * z)


@dataclass(frozen=True, slots=True)
class Parameters:
    """One parameter set for every cut and every chamber."""

    priors: Mapping[str, Prior]
    fixed: Mapping[str, float]
    view: Mapping[str, float]
    radiant: Mapping[str, float]
    shape: Mapping[str, float]


@cache
def parameters() -> Parameters:
    """The fitted set of data/parameters.toml."""
    data = table("parameters")
    return Parameters(
        priors={
            name: Prior(row["value"], row["sd"], row["spread"] == "ratio")
            for name, row in data["priors"].items()
        },
        fixed={name: row["value"] for name, row in data["fixed"].items()},
        view={kind: data["view"][kind] for kind in PitKind},
        radiant={kind: data["radiant_w_m2"][kind] for kind in PitKind},
        shape={name: row["factor"] for name, row in data["shape"].items()},
    )
