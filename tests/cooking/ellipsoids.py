"""Conduction in an ellipsoid by the Ritz method: no product solution exists, this is the outside check.

The temperature is a polynomial in x², y², z²; mass, stiffness and surface integrals are taken exactly in
stretched ball coordinates, and their generalised eigenproblem gives the modes. On a ball it repeats the
exact series (a test holds it to that). Nothing of the package is used.
Source of the method: any text on variational methods; convection is the natural boundary condition.
"""

import sys
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import eigh

from tests.cooking.bodies import ASKED_THETA, CONDUCTIVITY, DIFFUSIVITY, HALF_SIZES_M, fitted, times_to

Floats = NDArray[np.float64]

DEGREE = 7  # of the polynomial in the squares
POINTS = 24
RATIOS = (1.0, 1.3, 1.75, 2.4, 3.4, 5.5)


@dataclass(frozen=True)
class Modes:
    """The centre of a cooling piece: theta = sum(amplitude exp(-rate t))."""

    rates: Floats
    amplitudes: Floats

    def centre(self, seconds: Floats) -> Floats:
        """Dimensionless centre temperature at given seconds."""
        return np.asarray(np.exp(-np.outer(seconds, self.rates)) @ self.amplitudes)


def ellipsoid_times(half: tuple[float, float, float], h: float, asked: Floats = ASKED_THETA) -> Floats:
    """Seconds for the centre of an ellipsoid of three half sizes (m) through asked temperatures."""
    return times_to(modes(half, h).centre, asked, min(half) ** 2 / DIFFUSIVITY)


def modes(half: tuple[float, float, float], h: float, degree: int = DEGREE) -> Modes:
    """The modes of an ellipsoid under a surface coefficient h, W/(m² K)."""
    size = np.array(half)
    powers = [
        (i, j, k) for i in range(degree + 1) for j in range(degree + 1 - i) for k in range(degree + 1 - i - j)
    ]
    points, weights, faces, face_weights = _quadrature(size)
    values, slopes = _basis(points, powers)
    on_face, _ = _basis(faces, powers)
    mass = (values * (weights * size.prod())) @ values.T
    stiffness = sum((s / x * (weights * size.prod())) @ (s / x).T for s, x in zip(slopes, size, strict=True))
    surface = (on_face * face_weights) @ on_face.T
    rates, vectors = eigh(DIFFUSIVITY * (stiffness + h / CONDUCTIVITY * surface), mass)
    even = vectors.T @ (values @ (weights * size.prod()))
    middle, _ = _basis(np.zeros((3, 1)), powers)
    return Modes(rates, (vectors.T @ middle[:, 0]) * even)


def _quadrature(size: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Points and weights in an eighth of the unit ball and on its face, the face's for the real ellipsoid."""
    node, weight = np.polynomial.legendre.leggauss(POINTS)
    node, weight = (node + 1) / 2, weight / 2
    radius, up, round_ = np.meshgrid(node, node, node * np.pi / 2, indexing="ij")
    w = np.einsum("i,j,k->ijk", weight * node**2, weight, weight * np.pi / 2)
    flat = np.sqrt(1 - up**2)
    direction = np.stack([flat * np.cos(round_), flat * np.sin(round_), up]).reshape(3, -1)
    unit = direction[:, : POINTS**2]
    stretch = size.prod() * np.sqrt(((unit / size[:, None]) ** 2).sum(axis=0))
    face = np.einsum("j,k->jk", weight, weight * np.pi / 2).ravel() * stretch
    return direction * radius.ravel(), w.ravel(), unit, face


def _basis(points: Floats, powers: list[tuple[int, int, int]]) -> tuple[Floats, list[Floats]]:
    """Products of even Legendre polynomials at points of the unit ball, and their three slopes."""
    most = 2 * max(max(p) for p in powers)
    at = [np.polynomial.legendre.legvander(x, most)[:, ::2].T for x in points]
    to_slope = np.array([np.pad(np.polynomial.legendre.legder(row), (0, 1)) for row in np.eye(most + 1)])
    slope = [(np.polynomial.legendre.legvander(x, most) @ to_slope.T)[:, ::2].T for x in points]
    value = np.array([at[0][i] * at[1][j] * at[2][k] for i, j, k in powers])
    slopes = [
        np.array([np.prod([(slope if d == axis else at)[d][p[d]] for d in range(3)], axis=0) for p in powers])
        for axis in range(3)
    ]
    return value, slopes


def ellipsoid_row(half_m: float, b_over_a: float, c_over_a: float) -> tuple[float, float]:
    """(R/a, g) of an ellipsoid by its shortest half size a and its proportions."""
    half = (half_m, b_over_a * half_m, c_over_a * half_m)
    radius, g = fitted(lambda h: ellipsoid_times(half, h), half_m)
    return radius / half_m, g


def main() -> None:
    """Print the table the package carries."""
    write = sys.stdout.write
    write("[ellipsoid]\nrows = [\n")
    for half, b, c in product(HALF_SIZES_M, RATIOS, RATIOS):
        if c >= b:
            radius, g = ellipsoid_row(half, b, c)
            write(f"  [{half}, {b}, {c}, {radius:.4f}, {g:.4f}],\n")
            sys.stdout.flush()
    write("]\n")


if __name__ == "__main__":
    main()
