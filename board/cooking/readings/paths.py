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


def members_at(paths: Paths, minutes: Floats) -> Floats:
    """Every member's core at given minutes, members by minutes; one past its end keeps its last value."""
    place = np.clip(minutes / (paths.minutes[1] - paths.minutes[0]), 0, len(paths.minutes) - 1.001)
    low = place.astype(np.intp)
    before, after = paths.core[:, low], paths.core[:, low + 1]
    last = np.maximum((~np.isnan(paths.core)).sum(axis=1) - 1, 0)
    pulled_at = paths.core[np.arange(len(last)), last][:, None]
    before = np.where(np.isnan(before), pulled_at, before)
    after = np.where(np.isnan(after), before, after)
    return np.asarray(before + (after - before) * (place - low))
