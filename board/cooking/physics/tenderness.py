"""How fast collagen softens: time at one core temperature against time at another."""

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.air import ZERO_C_K
from board.cooking.tables import number

Floats = NDArray[np.float64]

HOT_K = 93.0 + ZERO_C_K


def pace(core_c: Floats) -> Floats:
    """Softening at a core temperature, as a multiple of that at 93 °C."""
    activation_k = number("parameters", "fixed", "tender_activation")
    return np.exp(activation_k * (1.0 / HOT_K - 1.0 / (core_c + ZERO_C_K)))
