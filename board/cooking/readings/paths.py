"""The members' paths as readings are held against them."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Paths

Floats = NDArray[np.float64]


def to_the_end(core: NDArray[Any]) -> Floats:
    """Members' cores, members by minutes, with the core a member was pulled at kept from then on."""
    last = np.maximum((~np.isnan(core)).sum(axis=1) - 1, 0)
    pulled_at = core[np.arange(len(core)), last]
    return np.where(np.isnan(core), pulled_at[:, None], core).astype(float)


def means_at(paths: Paths, minutes: Floats, rows: Floats) -> Floats:
    """Every member's core averaged over given minutes, members by rows.

    `rows` are weights of the minutes, a row an average. A member past its end keeps its last core.
    """
    place = np.clip(minutes / (paths.minutes[1] - paths.minutes[0]), 0, len(paths.minutes) - 1.001)
    low = place.astype(np.intp)
    part = place - low
    core = to_the_end(paths.core[:, : int(low.max()) + 2])
    return np.array([_mean(core, low[row > 0], part[row > 0], row[row > 0]) for row in rows]).T


def _mean(core: Floats, low: NDArray[np.intp], part: Floats, weight: Floats) -> Floats:
    """Every member's weighted core at places between the columns from `low` on, `part` of the way."""
    first = int(low.min())
    columns = np.zeros(int(low.max()) + 2 - first)
    np.add.at(columns, low - first, weight * (1.0 - part))
    np.add.at(columns, low + 1 - first, weight * part)
    # einsum, for a product of matrices wakes threads that cost more than it
    return np.asarray(np.einsum("ij,j->i", core[:, first : first + len(columns)], columns))
