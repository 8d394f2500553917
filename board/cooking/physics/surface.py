"""What passes through a surface: warmth from air, walls and coals in, vapour out, drip down."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.air import LATENT_0_J_KG, LATENT_SLOPE_J_KGK, ZERO_C_K, saturation_pa
from board.cooking.solver.columns import Constants, Meat, Surroundings

Floats = NDArray[np.float64]

STEFAN_BOLTZMANN = 5.670374419e-8  # W/(m² K⁴), by definition: SI brochure, 9th edition
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


@dataclass(slots=True)
class Skin:
    """What a surface's exchange depends on besides its own state; `shrunk` is its shrinkage in length.

    Kept for both stages of a step: `area` and `bare` shrunk with it, the wall's `grey` coefficient, the
    vapour's `activity` and what the air's own vapour takes off the drive, `damp`.
    """

    meat: Meat
    around: Surroundings
    fixed: Constants
    shrunk: Floats
    area: Floats = field(init=False)
    bare: Floats = field(init=False)
    grey: Floats = field(init=False)
    activity: Floats = field(init=False)
    damp: Floats = field(init=False)

    def __post_init__(self) -> None:
        around, pressure = self.around, self.meat.pressure
        self.area = self.shrunk * self.shrunk
        self.bare = self.area * around.transfer
        self.grey = around.emissivity * STEFAN_BOLTZMANN
        self.activity = self.fixed.water_activity / pressure
        self.damp = np.log1p(-around.vapour_pa / pressure)

    def exchange(self, celsius: Floats, film: Floats) -> Surface:
        """Heat, vapour and drip at a surface temperature (°C) and film (kg/m²)."""
        held = np.maximum(film, 0.0)
        warmth = self._warmth(celsius)
        vapour = self._vapour(celsius, held)
        latent = latent_j_kg(celsius)
        full = held / self.fixed.film_drip
        drip = self.fixed.film_drip_rate * full * full
        return Surface(
            heat=warmth.gained - latent * vapour.rate,
            heat_slope_c=warmth.slope_c - latent * vapour.slope_c,
            heat_slope_film=-latent * vapour.slope_film,
            warmth=warmth,
            vapour=vapour,
            drip=drip * full,
            drip_slope=drip * (3.0 / self.fixed.film_drip),
        )

    def _warmth(self, celsius: Floats) -> Warmth:
        """Convection and grey radiation, through the air gap of a wrap where there is one."""
        around = self.around
        kelvin = celsius + ZERO_C_K
        square = kelvin * kelvin
        to_wall = self.grey * (around.wall_k * around.wall_k + square) * (around.wall_k + kelvin)
        share = self.area / (1.0 + (around.h + to_wall) * around.gap_m2k_w)
        convected = around.h * (around.air_c - celsius)
        gained = share * (convected + to_wall * (around.wall_k - kelvin) + around.radiant)
        return Warmth(gained, -share * (around.h + 4.0 * self.grey * square * kelvin))

    def _vapour(self, celsius: Floats, held: Floats) -> Vapour:
        """Stefan flow by the Lewis relation, from the wet part of the surface and through a wrap.

        m = G ln((1 − p∞/P) / (1 − aw ps/P)), G = φK / (1 + φK/K_wrap), φ = w / (w + w_half).
        """
        around, half = self.around, self.fixed.film_half
        pressure, pressure_slope = saturation_pa(celsius)
        part = np.minimum(self.activity * pressure, WETTEST)
        drive = self.damp - np.log1p(-part)
        drive_slope = np.where(part < WETTEST, self.activity * pressure_slope / (1.0 - part), 0.0)
        dry = 1.0 / (held + half)
        wet = held * dry
        choked = 1.0 / (1.0 + wet * around.transfer * around.wrap_m2s_kg)
        passed = self.bare * choked
        steeper = passed * choked * drive * dry * dry * half
        passed *= wet
        return Vapour(passed * drive, passed * drive_slope, steeper)


def latent_j_kg(celsius: Floats) -> Floats:
    """Latent heat of evaporation. Source: steam tables, a straight line over 0–100 °C, from memory."""
    return LATENT_0_J_KG - LATENT_SLOPE_J_KGK * celsius
