"""From a cut's size to the one-dimensional body that heats in the same time.

The body's area grows as r**g from its middle to its surface at R: g is 0 for a slab, 1 for a cylinder, 2
for a ball and anything between for real pieces. Bricks and short cylinders are fitted to their exact
product solutions, ellipsoids to a Ritz solution (data/bodies.toml); rounded blocks are taken as ellipsoids;
birds take a fitted thickness. A factor by class carries what solids of that name leave out.
"""

from bisect import bisect_left
from dataclasses import dataclass, replace
from functools import cache
from math import log

import numpy as np
from numpy.typing import NDArray

from board.cooking.errors import CookingError
from board.cooking.physics.parameters import Parameters
from board.cooking.tables import table
from board.house.model import Size
from board.house.pieces import grown

Floats = NDArray[np.float64]

THINNEST_M = 0.004


@dataclass(frozen=True, slots=True)
class Body:
    """A one-dimensional body: its radius or half thickness (m) and its exponent."""

    radius_m: float
    g: float


def body_of(size: Size, mass_kg: float, parameters: Parameters) -> Body:
    """The body of one piece of a cut at a mass, its class's factor included."""
    body = solid(grown(size, mass_kg))
    return replace(body, radius_m=body.radius_m * parameters.shape[size.shape])


def solid(size: Size) -> Body:
    """The body of the solid a shape class stands for, before its factor."""
    half = sorted((size.thickness_m / 2, size.width_m / 2, size.length_m / 2))
    if half[0] < THINNEST_M:
        raise CookingError(f"a piece {half[0] * 2000:.1f} mm thick is too thin for these sums")
    match size.shape:
        case "slab" | "taper":
            return brick(*half)
        case "block" | "ellip":
            return ellipsoid(*half)
        case "ecyl" | "dcyl" | "cyl":
            radius = _mean_square(size.thickness_m / 2, size.width_m / 2)
            return cylinder(radius, size.length_m / 2)
        case "shell":
            return Body(size.thickness_m / 2, _given_g("shell"))
        case "bird" | "dome":
            thickness = size.equivalent_thickness_m or size.thickness_m * 0.63
            return Body(thickness / 2, _given_g(size.shape))
    raise CookingError(
        f"no shape called {size.shape!r}: allowed are {', '.join(table('parameters')['shape'])}"
    )


def brick(a: float, b: float, c: float) -> Body:
    """The body of a brick of half sizes a ≤ b ≤ c."""
    ratio, g = _interpolated("brick", (a, b / a, c / a))
    return Body(a * ratio, g)


def cylinder(radius: float, half_length: float) -> Body:
    """The body of a cylinder, long or short."""
    ratio, g = _interpolated("cylinder", (radius, half_length / radius))
    return Body(radius * ratio, g)


def ellipsoid(a: float, b: float, c: float) -> Body:
    """The body of an ellipsoid of half sizes a ≤ b ≤ c."""
    ratio, g = _interpolated("ellipsoid", (a, b / a, c / a))
    return Body(a * ratio, g)


def _mean_square(*half: float) -> float:
    """The radius whose inverse square is the mean of the half sizes'."""
    return float((len(half) / sum(1 / x**2 for x in half)) ** 0.5)


def _given_g(shape: str) -> float:
    """The exponent the parameter table gives a class."""
    return float(table("parameters")["shape"][shape]["g"])


def _interpolated(solid_name: str, place: tuple[float, ...]) -> tuple[float, float]:
    """(R over the first half size, g) between the rows of a table, straight in the logarithms."""
    axes, values = _grid(solid_name)
    for axis, at in zip(axes, place, strict=True):
        x = log(at)
        low = min(max(bisect_left(axis, x) - 1, 0), len(axis) - 2)
        part = min(max((x - axis[low]) / (axis[low + 1] - axis[low]), 0.0), 1.0)
        values = values[low] * (1.0 - part) + values[low + 1] * part
    return float(values[0]), float(values[1])


@cache
def _grid(solid_name: str) -> tuple[list[list[float]], Floats]:
    """A table as axes of logarithms and (R ratio, g) at every corner; a solid's b and c may be swapped."""
    rows = np.array(table("bodies")[solid_name]["rows"])
    keys = rows[:, :-2]
    axes = [np.unique(keys[:, d]) for d in range(keys.shape[1])]
    values = np.empty((*(len(axis) for axis in axes), 2))
    for row in rows:
        index = [int(np.searchsorted(axes[d], row[d])) for d in range(len(axes))]
        values[tuple(index)] = row[-2:]
        if len(index) == 3:
            values[index[0], index[2], index[1]] = row[-2:]
    return [np.log(axis).tolist() for axis in axes], values
