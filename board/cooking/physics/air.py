"""The state of humid air: pressure, vapour, saturation and boiling, from PsychroLib."""

from functools import cache

import numpy as np
import psychrolib
from numpy.typing import NDArray

Floats = NDArray[np.float64]

ZERO_C_K = 273.15  # by definition: SI brochure, 9th edition, section 2.3.1
WATER_TO_AIR = 0.621945  # ratio of molar masses: ASHRAE Handbook Fundamentals (2017) ch. 1
LATENT_0_J_KG = 2.501e6
LATENT_SLOPE_J_KGK = 2361.0
COLDEST_C = -40.0
HOTTEST_C = 200.0  # where GetSatVapPres ends
STEP_C = 0.125
PER_C = 1.0 / STEP_C


@cache
def log_saturation() -> Floats:
    """ln of the saturation pressure (Pa) each eighth of a degree, from PsychroLib's GetSatVapPres.

    Between the points ln p is straight: off by less than two parts in a million.
    """
    psychrolib.SetUnitSystem(psychrolib.SI)
    count = round((HOTTEST_C - COLDEST_C) / STEP_C) + 1
    celsius = np.linspace(COLDEST_C, HOTTEST_C, count)
    return np.log([psychrolib.GetSatVapPres(t) for t in celsius])


def saturation_pa(celsius: Floats) -> tuple[Floats, Floats]:
    """Saturation pressure (Pa) and its slope (Pa/K) at an array of temperatures, −40…200 °C."""
    ln = log_saturation()
    place = (celsius - COLDEST_C) * PER_C
    index = np.minimum(np.maximum(place.astype(np.intp), 0), len(ln) - 2)
    low = ln[index]
    rise = ln[index + 1] - low
    pressure = np.exp(low + rise * np.minimum(place - index, 1.0))
    return pressure, pressure * rise * PER_C


def pressure_pa(altitude_m: float) -> float:
    """Air pressure at an altitude in the standard atmosphere."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetStandardAtmPressure(altitude_m))


def boiling_c(pressure: float) -> float:
    """Where water boils under a pressure (Pa)."""
    ln = log_saturation()
    return float(np.interp(np.log(pressure), ln, np.linspace(COLDEST_C, HOTTEST_C, len(ln))))


def vapour_pa(humidity_ratio: Floats, pressure: Floats) -> Floats:
    """Vapour pressure of air holding so many kg of water a kg of dry air.

    Source: ASHRAE Handbook Fundamentals (2017) ch. 1, equation 20.
    """
    return np.asarray(pressure * humidity_ratio / (WATER_TO_AIR + humidity_ratio))
