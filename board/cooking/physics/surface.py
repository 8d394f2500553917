"""What passes through a surface: warmth from air, walls and coals in, vapour out, drip down."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.air import LATENT_0_J_KG, LATENT_SLOPE_J_KGK, saturation_pa
from board.cooking.solver.columns import Constants, Meat, Surroundings

Floats = NDArray[np.float64]

STEFAN_BOLTZMANN = 5.670374419e-8  # W/(m² K⁴), by definition: SI brochure, 9th edition
ZERO_C_K = 273.15
WETTEST = 0.995  # of all vapour at the surface: keeps Stefan's logarithm finite as a film boils


@dataclass(slots=True)
class Warmth:
    """Heat gained from the surroundings, W/m², and its slope with the surface's temperature."""

    gained: Floats
    slope_c: Floats


@dataclass(slots=True)
class Vapour:
    """Water evaporating, kg/(m² s), and its slopes with temperature and film."""

    rate: Floats
    slope_c: Floats
    slope_film: Floats


@dataclass(slots=True)
class Surface:
    """A surface's exchange of heat (net of evaporation), vapour and drip, with their slopes."""

    heat: Floats
    heat_slope_c: Floats
    heat_slope_film: Floats
    warmth: Warmth
    vapour: Vapour
    drip: Floats
    drip_slope: Floats


@dataclass(frozen=True, slots=True)
class Skin:
    """What a surface's exchange depends on besides its own state; `shrunk` is its shrinkage in length."""

    meat: Meat
    around: Surroundings
    fixed: Constants
    shrunk: Floats

    def exchange(self, celsius: Floats, film: Floats) -> Surface:
        """Heat, vapour and drip at a surface temperature (°C) and film (kg/m²)."""
        held = np.maximum(film, 0.0)
        warmth = self._warmth(celsius)
        vapour = self._vapour(celsius, held)
        latent = latent_j_kg(celsius)
        full = held / self.fixed.film_drip
        return Surface(
            heat=warmth.gained - latent * vapour.rate,
            heat_slope_c=warmth.slope_c - latent * vapour.slope_c,
            heat_slope_film=-latent * vapour.slope_film,
            warmth=warmth,
            vapour=vapour,
            drip=self.fixed.film_drip_rate * full**3,
            drip_slope=self.fixed.film_drip_rate * 3.0 * full**2 / self.fixed.film_drip,
        )

    def _warmth(self, celsius: Floats) -> Warmth:
        """Convection and grey radiation, through the air gap of a wrap where there is one."""
        around = self.around
        kelvin = celsius + ZERO_C_K
        grey = around.emissivity * STEFAN_BOLTZMANN
        to_wall = grey * (around.wall_k**2 + kelvin**2) * (around.wall_k + kelvin)
        share = self.shrunk**2 / (1.0 + (around.h + to_wall) * around.gap_m2k_w)
        convected = around.h * (around.air_c - celsius)
        gained = share * (convected + to_wall * (around.wall_k - kelvin) + around.radiant)
        return Warmth(gained, -share * (around.h + 4.0 * grey * kelvin**3))

    def _vapour(self, celsius: Floats, held: Floats) -> Vapour:
        """Stefan flow by the Lewis relation, from the wet part of the surface and through a wrap.

        m = G ln((1 − p∞/P) / (1 − aw ps/P)), G = φK / (1 + φK/K_wrap), φ = w / (w + w_half).
        """
        around, fixed = self.around, self.fixed
        pressure, pressure_slope = saturation_pa(celsius)
        activity = fixed.water_activity / self.meat.pressure
        part = np.minimum(activity * pressure, WETTEST)
        drive = np.log((1.0 - around.vapour_pa / self.meat.pressure) / (1.0 - part))
        drive_slope = np.where(part < WETTEST, activity * pressure_slope / (1.0 - part), 0.0)
        wet = held / (held + fixed.film_half)
        bare = self.shrunk**2 * around.transfer
        choked = 1.0 + wet * around.transfer * around.wrap_m2s_kg
        passed = wet * bare / choked
        more_wet = fixed.film_half / (held + fixed.film_half) ** 2
        return Vapour(passed * drive, passed * drive_slope, more_wet * bare / choked**2 * drive)


def latent_j_kg(celsius: Floats) -> Floats:
    """Latent heat of evaporation. Source: steam tables, a straight line over 0–100 °C, from memory."""
    return LATENT_0_J_KG - LATENT_SLOPE_J_KGK * celsius
