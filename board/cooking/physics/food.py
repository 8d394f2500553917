"""What meat conducts and stores, from its composition (Choi–Okos)."""

from dataclasses import astuple, dataclass, fields
from functools import cache

import numpy as np
from numpy.typing import NDArray

from board.cooking.tables import table
from board.house.model import Composition

Floats = NDArray[np.float64]

RAW_C = 5.0  # the temperature raw density is taken at
FIT_C = np.linspace(0.0, 130.0, 53)
COMPONENTS = tuple(field.name for field in fields(Composition))


@dataclass(frozen=True, slots=True)
class Food:
    """A meat's raw density and the coefficients a0, a1, a2 of its heat capacity and conductivity.

    `density` kg/m³; `heat` J/(kg K) and `conductivity` W/(m K) as polynomials of °C, 0…130 °C.
    """

    density: float
    heat: tuple[float, float, float]
    conductivity: tuple[float, float, float]
    water: float


@cache
def food_of(composition: Composition) -> Food:
    """The food of a composition: the mixing rules once, then polynomials the solver evaluates cheaply.

    Heat capacity is a polynomial exactly; conductivity, whose volume fractions move with
    temperature, is fitted to better than 0.02 %.
    """
    heat = _shares(composition) @ _coefficients("cp")
    conductivity = np.polynomial.polynomial.polyfit(FIT_C, conductivity_w_mk(composition, FIT_C), 2)
    return Food(
        density=float(density_kg_m3(composition, np.float64(RAW_C))),
        heat=(float(heat[0]), float(heat[1]), float(heat[2])),
        conductivity=(float(conductivity[0]), float(conductivity[1]), float(conductivity[2])),
        water=float(_shares(composition)[COMPONENTS.index("water")]),
    )


def density_kg_m3(composition: Composition, celsius: Floats | np.float64) -> Floats:
    """Density by volumes that add: 1 / sum(x / rho). Source: ASHRAE Refrigeration (2006) ch. 9."""
    return np.asarray(1.0 / _volumes(composition, celsius).sum(axis=0))


def heat_capacity_j_kgk(composition: Composition, celsius: Floats | np.float64) -> Floats:
    """Heat capacity by mass: sum(x cp). Source: ASHRAE Refrigeration (2006) ch. 9."""
    return np.asarray(_shares(composition) @ _values("cp", celsius).reshape(len(COMPONENTS), -1))


def conductivity_w_mk(composition: Composition, celsius: Floats | np.float64) -> Floats:
    """Conductivity by volume, in parallel: sum(phi k). Source: ASHRAE Refrigeration (2006) ch. 9."""
    volumes = _volumes(composition, celsius)
    return np.asarray((volumes * _values("k", celsius)).sum(axis=0) / volumes.sum(axis=0))


def _volumes(composition: Composition, celsius: Floats | np.float64) -> Floats:
    """Volume of each component in a kilogram, m³."""
    rho = _values("rho", celsius)
    shares = _shares(composition)
    return np.asarray(shares.reshape(-1, *([1] * (rho.ndim - 1))) / rho)


def _shares(composition: Composition) -> Floats:
    """The mass fractions in the order of the table, made to sum to one."""
    shares = np.array(astuple(composition))
    return np.asarray(shares / shares.sum())


def _coefficients(what: str) -> Floats:
    """One row of polynomial coefficients a component."""
    return np.array([table("food")[name][what] for name in COMPONENTS])


def _values(what: str, celsius: Floats | np.float64) -> Floats:
    """A property of every component at temperatures, one row a component."""
    a = _coefficients(what)
    t = np.asarray(celsius, dtype=float)
    return np.stack([row[0] + row[1] * t + row[2] * t * t for row in a])
