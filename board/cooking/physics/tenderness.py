"""How fast collagen softens: time at one core temperature against time at another."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# Effective, from two anchors of practice: a day at 68 °C softens like an hour and a half at 93 °C.
ACTIVATION_K = 13_830.0  # 115 kJ/mol over the gas constant; common practice, no source
REFERENCE_K = 366.15
ZERO_C_K = 273.15


def pace(core_c: Floats) -> Floats:
    """Softening at a core temperature, as a multiple of that at 93 °C."""
    return np.exp(ACTIVATION_K * (1.0 / REFERENCE_K - 1.0 / (core_c + ZERO_C_K)))
