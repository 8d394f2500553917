"""Salt spreading through a solid with one coefficient: soaking in from the outside, then evening out.

A solid is a product of lines, each a slab (exponent 0), a cylinder (1), a ball (2) or anything between, whose
area grows as r**g from its middle to its surface. What is still lacking everywhere, the deficit, is 1 at
first and 0 on the outside; the deficit of a brick or a short cylinder is the product of its lines' (Carslaw
and Jaeger, Conduction of Heat in Solids, 1.15; from memory), while it soaks and while it rests with its
surface sealed. A line is cut into cells, finest at the surface, and followed exactly in time by their modes.
"""

from collections.abc import Callable
from functools import lru_cache
from math import pi, prod

import numpy as np
from numpy.typing import NDArray

from board.batches.shares import Line, Shares, Solid

Floats = NDArray[np.float64]

CELLS = 120


def soaked(solid: Solid, d_m2_s: float, seconds: float, rest_seconds: float = 0.0) -> Shares:
    """A solid after lying in something that keeps its outside at 1, then resting drained and cold.

    `d_m2_s` is the coefficient. The outside is that in the middle of the broadest face.
    """
    if seconds <= 0:
        return Shares(0.0, 0.0, 0.0)
    lacks = [_deficit(line, d_m2_s, seconds, rest_seconds) for line in solid]
    thinnest = min(range(len(solid)), key=lambda n: solid[n].half_m)
    outside = prod(lack.outside if n == thinnest else lack.middle for n, lack in enumerate(lacks))
    return Shares(1 - prod(lack.middle for lack in lacks), 1 - prod(lack.mean for lack in lacks), 1 - outside)


def evened_out(depth_m: float, share: float, d_m2_s: float, seconds: float) -> Shares:
    """A sealed sheet with all its salt at first in its last `share`: between two rows of needle holes.

    `depth_m` is half the distance between the rows. The middle is the farthest from the holes, the outside
    is at them (Crank, The Mathematics of Diffusion, plane sheet; from memory).
    """
    n = np.arange(1, 400)
    terms = (
        -2
        / (n * pi * share)
        * np.sin(n * pi * (1 - share))
        * np.exp(-((n * pi / depth_m) ** 2) * d_m2_s * seconds)
    )
    # at nought seconds the series does not settle at the edge: it is the salt's own share there
    at_holes = 1 / share if seconds <= 0 else 1 + float(np.sum(terms * (-1.0) ** n))
    return Shares(max(0.0, 1 + float(np.sum(terms))) if seconds > 0 else 0.0, 1.0, min(at_holes, 1 / share))


def when(reached: Callable[[float], float], fraction: float, longest: float) -> float:
    """The first time at which something that only grows reaches a fraction; `longest` if it never does."""
    low, high = 0.0, longest
    if reached(longest) < fraction:
        return longest
    while high - low > 1e-4 * high:
        middle = (low + high) / 2
        low, high = (low, middle) if reached(middle) >= fraction else (middle, high)
    return high


def _deficit(line: Line, d_m2_s: float, seconds: float, rest_seconds: float) -> Shares:
    """What one line still lacks in its middle, on average and outside."""
    volumes, open_modes, sealed_modes = _modes(round(line.g, 4))
    lack = np.ones(CELLS)
    lack = _follow(lack, volumes, open_modes, d_m2_s * seconds / line.half_m**2)
    outside = 0.0
    if rest_seconds > 0:
        lack = _follow(lack, volumes, sealed_modes, d_m2_s * rest_seconds / line.half_m**2)
        outside = float(lack[-1])
    return Shares(float(lack[0]), float(np.average(lack, weights=volumes)), outside)


Modes = tuple[Floats, Floats]


def _follow(lack: Floats, volumes: Floats, modes: Modes, fourier: float) -> Floats:
    """The cells' values after a Fourier number D t / half²."""
    rates, shapes = modes
    root = np.sqrt(volumes)
    found: Floats = shapes @ (np.exp(-rates * fourier) * (shapes.T @ (root * lack))) / root
    return np.clip(found, 0.0, 1.0)


@lru_cache(maxsize=64)
def _modes(g: float) -> tuple[Floats, Modes, Modes]:
    """Cell volumes, and the modes of a line of half thickness 1 with its surface open, and sealed."""
    faces = np.sin(np.linspace(0.0, pi / 2, CELLS + 1))
    volumes = (faces[1:] ** (g + 1) - faces[:-1] ** (g + 1)) / (g + 1)
    centres = (faces[1:] + faces[:-1]) / 2
    between = faces[1:-1] ** g / np.diff(centres)
    flow = np.zeros((CELLS, CELLS))
    for cell, through in enumerate(between):
        flow[cell : cell + 2, cell : cell + 2] += through * np.array([[1.0, -1.0], [-1.0, 1.0]])
    opened = flow.copy()
    opened[-1, -1] += 1.0 / (1.0 - centres[-1])
    scale = 1 / np.sqrt(np.outer(volumes, volumes))
    return volumes, _eigen(opened * scale), _eigen(flow * scale)


def _eigen(matrix: Floats) -> Modes:
    rates, shapes = np.linalg.eigh(matrix)
    return np.maximum(rates, 0.0), shapes
