"""The solid that stands for a piece while salt spreads through it.

Flat pieces are bricks, rounds are short cylinders of the radius whose inverse square is the mean of their two
half sides', hams are ellipsoids and blocks ellipsoids of their own volume; birds and shells are slabs of
their meat's own thickness. An ellipsoid is one line whose surface over volume and whose slowest decay are
the ellipsoid's.
"""

from functools import lru_cache
from itertools import product
from math import gamma, pi, sqrt

import numpy as np

from board.batches.shares import Line, Solid
from board.house.model import Size
from board.house.pieces import grown, rounded, surface_m2

_PLATES = ("slab", "taper")
_ROUNDS = ("cyl", "ecyl", "dcyl")
_BY_THICKNESS = ("shell", "bird", "dome")
_DEGREE = 3  # of the trial functions in each square: the slowest decay to 0.1 % for any library cut


def solid_of(size: Size, mass_kg: float | None = None) -> Solid:
    """The lines of a piece of this size, at its own mass or another."""
    piece = size if mass_kg is None else grown(size, mass_kg)
    a, b, c = piece.thickness_m / 2, piece.width_m / 2, piece.length_m / 2
    if piece.shape in _PLATES:
        return Line(a), Line(b), Line(c)
    if piece.shape in _ROUNDS:
        return Line(sqrt(2 / (1 / a**2 + 1 / b**2)), 1.0), Line(c)
    if piece.shape in _BY_THICKNESS:
        return (Line((piece.equivalent_thickness_m or piece.thickness_m) / 2),)
    if piece.shape == "block":
        a, b, c = (side * rounded(piece) for side in (a, b, c))
    return (_ellipsoid_line(a, b, c),)


def depth_m(size: Size, mass_kg: float | None = None) -> float:
    """How far salt has to go from the nearest outside to the middle of a piece, m."""
    piece = size if mass_kg is None else grown(size, mass_kg)
    if piece.shape in _BY_THICKNESS:
        return (piece.equivalent_thickness_m or piece.thickness_m) / 2
    return min(piece.thickness_m, piece.width_m, piece.length_m) / 2


def _ellipsoid_line(a: float, b: float, c: float) -> Line:
    """The line with an ellipsoid's surface over volume and its slowest decay."""
    outline = Size(1.0, 2 * a, 2 * b, 2 * c, "ellip", "isometric", pi / 6)
    open_to = surface_m2(outline, 1.0) / (4 / 3 * pi * a * b * c)
    slowest = slowest_decay(a, b, c)
    low, high = 0.0, 2.0
    for _ in range(50):
        g = (low + high) / 2
        radius = (g + 1) / open_to
        low, high = (g, high) if (first_root(g) / radius) ** 2 > slowest else (low, g)
    return Line((low + 1) / open_to, low)


@lru_cache(maxsize=256)
def first_root(g: float) -> float:
    """The first root of a line's own wave: pi/2 for a slab, 2.405 for a cylinder, pi for a ball."""
    order = (g - 1) / 2

    def wave(x: float) -> float:
        return sum(
            (-1.0) ** k * (x / 2) ** (2 * k) / (gamma(k + 1) * gamma(order + k + 1)) for k in range(18)
        )

    low, high = 0.5, 3.5
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if wave(middle) > 0 else (low, middle)
    return high


@lru_cache(maxsize=256)
def slowest_decay(a: float, b: float, c: float) -> float:
    """The slowest decay, 1/m², of an ellipsoid of half sides a, b, c with its outside kept at nought.

    Ritz: the least of the quotient over (1 - r²) times even powers, in the ellipsoid drawn out to a ball.
    """
    powers = [p for p in product(range(_DEGREE + 1), repeat=3) if sum(p) <= _DEGREE]
    waves = [_wave(p) for p in powers]
    mass = np.array([[_integral(_times(u, v)) for v in waves] for u in waves])
    stiff = np.zeros_like(mass)
    for axis, half in enumerate((a, b, c)):
        slopes = [_slope(u, axis) for u in waves]
        stiff += np.array([[_integral(_times(u, v)) for v in slopes] for u in slopes]) / half**2
    return float(1 / np.max(np.linalg.eigvals(np.linalg.solve(stiff, mass)).real))


# a polynomial in x, y, z: its coefficient by its three powers
_Poly = dict[tuple[int, int, int], float]


def _wave(power: tuple[int, ...]) -> _Poly:
    """(1 - x² - y² - z²) x^2i y^2j z^2k."""
    i, j, k = (2 * p for p in power)
    return {(i, j, k): 1.0, (i + 2, j, k): -1.0, (i, j + 2, k): -1.0, (i, j, k + 2): -1.0}


def _slope(u: _Poly, axis: int) -> _Poly:
    found: _Poly = {}
    for powers, coefficient in u.items():
        if powers[axis] > 0:
            lower = tuple(p - (n == axis) for n, p in enumerate(powers))
            found[lower[0], lower[1], lower[2]] = coefficient * powers[axis]
    return found


def _times(u: _Poly, v: _Poly) -> _Poly:
    found: _Poly = {}
    for (i, j, k), one in u.items():
        for (p, q, r), other in v.items():
            key = i + p, j + q, k + r
            found[key] = found.get(key, 0.0) + one * other
    return found


def _integral(u: _Poly) -> float:
    """Over the unit ball."""
    total = 0.0
    for powers, coefficient in u.items():
        if all(p % 2 == 0 for p in powers):
            halves = [(p + 1) / 2 for p in powers]
            total += (
                coefficient * gamma(halves[0]) * gamma(halves[1]) * gamma(halves[2]) / gamma(sum(halves) + 1)
            )
    return total
