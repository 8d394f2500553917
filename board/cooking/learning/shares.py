"""Which part of what is unknown stays with the house, the kind of pit, the pit or the cut, or is a load's."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.parameters import Parameters
from board.cooking.sampling import departures
from board.cooking.tables import table

Floats = NDArray[np.float64]

LASTING = ("house", "kind", "pit", "cut")
LOAD = "load"
PROBE = "probe"  # where the air of a pit is read: moves no cook


@dataclass(frozen=True, slots=True)
class Shares:
    """The share of variance of each departure by level: `names` in order, one array of them a level."""

    names: tuple[str, ...]
    by: dict[str, Floats]

    @property
    def lasting(self) -> Floats:
        """What does not change from load to load."""
        return np.asarray(1.0 - self.by[LOAD])


@dataclass(frozen=True, slots=True)
class Record:
    """How well a record of a cook is trusted; see data/learning.toml."""

    minutes_sd: float
    core_sd: float
    air_sd: float
    wrong: float
    wrong_sd: float
    wrong_air_sd: float
    wrong_range_sd: float
    scatter_sd: float
    unlike_sd: float


def shares(parameters: Parameters) -> Shares:
    """The shares of every departure, and of where a probe hangs."""
    told = table("learning")["shares"]
    names = (*departures(parameters), PROBE)
    rows = [told.get(name, told["other"]) for name in names]
    by = {level: np.array([float(row.get(level, 0.0)) for row in rows]) for level in (*LASTING, LOAD)}
    return Shares(names, by)


@cache
def record() -> Record:
    """The trust in records."""
    return Record(**{name: float(row["value"]) for name, row in table("learning")["record"].items()})
