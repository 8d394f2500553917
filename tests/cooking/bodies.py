"""Exact conduction: series for slab, cylinder and sphere, products of them, and the body that fits them.

Kept apart from the package: SciPy's roots and special functions, nothing of the solver.
Source of the series: any text on transient conduction; half thickness or radius in the Biot number.
"""

import sys
from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq, least_squares
from scipy.special import gamma, jv

Floats = NDArray[np.float64]

TERMS = 30
CONDUCTIVITY = 0.48
DIFFUSIVITY = 1.4e-7
COEFFICIENTS_W_M2K = (12.0, 20.0)
ASKED_THETA = np.linspace(0.75, 0.30, 10)
HALF_SIZES_M = (0.0125, 0.025, 0.05, 0.1)


@dataclass(frozen=True)
class Series:
    """The centre of one body cooling in a convective room: theta = sum(amplitude exp(-root² Fo))."""

    roots: Floats
    amplitudes: Floats

    def centre(self, fourier: Floats) -> Floats:
        """Dimensionless centre temperature at Fourier numbers."""
        return np.asarray(np.exp(-np.outer(fourier, self.roots**2)) @ self.amplitudes)


def series(g: float, biot: float, terms: int = TERMS) -> Series:
    """The exact series of a body whose area grows as r**g: slab 0, cylinder 1, sphere 2, any between.

    Eigenfunctions x**nu J_{-nu}(z x), nu = (1-g)/2; with the 0th-order ones scaled to 1 at the centre.
    """
    nu = (g - 1.0) / 2.0
    roots = _roots(lambda z: z * jv(nu + 1, z) - biot * jv(nu, z), terms)
    amplitudes = _amplitudes(nu, roots)
    return Series(roots, amplitudes)


def _amplitudes(nu: float, z: Floats) -> Floats:
    """Coefficients for a uniform start, the eigenfunction being 1 at the centre."""
    scale = gamma(nu + 1) * (2.0 / z) ** nu
    inner = jv(nu + 1, z) / z
    norm = 0.5 * (jv(nu, z) ** 2 + jv(nu + 1, z) ** 2 - (2 * nu / z) * jv(nu, z) * jv(nu + 1, z))
    return np.asarray(inner / norm / scale)


def _roots(f: Callable[[float], float], count: int) -> Floats:
    """The first positive roots, found by a fine walk and Brent's method."""
    found: list[float] = []
    z, step = 1e-6, 0.05
    while len(found) < count:
        if f(z) * f(z + step) < 0:
            found.append(brentq(f, z, z + step, xtol=1e-13))
        z += step
    return np.array(found)


def times_to(theta: Callable[[Floats], Floats], asked: Floats, scale_s: float) -> Floats:
    """Seconds at which a falling centre passes each asked value."""
    seconds = np.geomspace(1e-3, 30.0, 1500) * scale_s
    falling = theta(seconds)
    return np.interp(-asked, -falling, seconds)


def brick_times(a: float, b: float, c: float, h: float, asked: Floats = ASKED_THETA) -> Floats:
    """Seconds for the centre of a brick of half sizes a ≤ b ≤ c (m): the product of three slabs."""
    parts = [(x, series(0.0, h * x / CONDUCTIVITY)) for x in (a, b, c)]

    def theta(seconds: Floats) -> Floats:
        return np.prod([s.centre(DIFFUSIVITY * seconds / x**2) for x, s in parts], axis=0)

    return times_to(theta, asked, a**2 / DIFFUSIVITY)


def cylinder_times(r: float, half_length: float, h: float, asked: Floats = ASKED_THETA) -> Floats:
    """Seconds for the centre of a short cylinder: an endless cylinder times a slab."""
    round_, flat = series(1.0, h * r / CONDUCTIVITY), series(0.0, h * half_length / CONDUCTIVITY)

    def theta(seconds: Floats) -> Floats:
        return np.asarray(
            round_.centre(DIFFUSIVITY * seconds / r**2) * flat.centre(DIFFUSIVITY * seconds / half_length**2)
        )

    return times_to(theta, asked, min(r, half_length) ** 2 / DIFFUSIVITY)


def body_times(radius: float, g: float, h: float, asked: Floats = ASKED_THETA) -> Floats:
    """Seconds for the centre of a one-dimensional body."""
    s = series(g, h * radius / CONDUCTIVITY)
    return times_to(lambda t: s.centre(DIFFUSIVITY * t / radius**2), asked, radius**2 / DIFFUSIVITY)


def fitted(exact: Callable[[float], Floats], start_radius: float) -> tuple[float, float]:
    """(R, g) of the one-dimensional body whose times are nearest the exact ones, in relative terms."""
    wanted = np.concatenate([exact(h) for h in COEFFICIENTS_W_M2K])

    def error(x: Floats) -> Floats:
        ours = np.concatenate([body_times(x[0] * start_radius, x[1], h) for h in COEFFICIENTS_W_M2K])
        return np.asarray(np.log(ours / wanted))

    best = least_squares(error, [1.1, 1.0], bounds=([0.3, 0.0], [3.0, 3.5]), xtol=1e-7)
    return float(best.x[0] * start_radius), float(best.x[1])


def brick_row(half_m: float, b_over_a: float, c_over_a: float) -> tuple[float, float]:
    """(R/a, g) of a brick by its shortest half size a and its proportions."""
    radius, g = fitted(lambda h: brick_times(half_m, b_over_a * half_m, c_over_a * half_m, h), half_m)
    return radius / half_m, g


def cylinder_row(half_m: float, length_over_diameter: float) -> tuple[float, float]:
    """(R/r, g) of a short cylinder by its radius r and its proportion."""
    shorter = half_m * min(1.0, length_over_diameter)
    radius, g = fitted(lambda h: cylinder_times(half_m, length_over_diameter * half_m, h), shorter)
    return radius / half_m, g


BRICK_RATIOS = (1.0, 1.3, 1.75, 2.4, 3.4, 5.5, 10.0, 20.0)
CYLINDER_RATIOS = (0.25, 0.4, 0.6, 0.8, 1.0, 1.3, 1.75, 2.4, 3.4, 5.5, 10.0, 20.0)


def main() -> None:
    """Print the tables the package carries."""
    write = sys.stdout.write
    write("[cylinder]\nrows = [\n")
    for half, ratio in product(HALF_SIZES_M, CYLINDER_RATIOS):
        radius, g = cylinder_row(half, ratio)
        write(f"  [{half}, {ratio}, {radius:.4f}, {g:.4f}],\n")
    write("]\n\n[brick]\nrows = [\n")
    for half, b, c in product(HALF_SIZES_M, BRICK_RATIOS, BRICK_RATIOS):
        if c >= b:
            radius, g = brick_row(half, b, c)
            write(f"  [{half}, {b}, {c}, {radius:.4f}, {g:.4f}],\n")
    write("]\n")


if __name__ == "__main__":
    main()
