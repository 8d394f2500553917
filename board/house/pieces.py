"""A piece as a solid: its sides at any mass, and its surface.

Sides and shape classes are those of Size. The surface is the outside's: a bird's hollow is not counted.
"""

from dataclasses import replace
from math import pi, sqrt

from board.house.model import Size

# Thomsen's formula for the surface of an ellipsoid, at most 1.1 % out (from memory)
_THOMSEN = 1.6075


def grown(size: Size, mass_kg: float) -> Size:
    """The sizes at another mass: all alike, in length only, or at a fixed thickness."""
    ratio = mass_kg / size.at_kg
    along, across, through = {
        "isometric": (ratio ** (1 / 3),) * 3,
        "length": (ratio, 1.0, 1.0),
        "thickness_fixed": (ratio**0.5, ratio**0.5, 1.0),
    }[size.scale]
    equivalent = size.equivalent_thickness_m
    return replace(
        size,
        at_kg=mass_kg,
        thickness_m=size.thickness_m * through,
        width_m=size.width_m * across,
        length_m=size.length_m * along,
        equivalent_thickness_m=None if equivalent is None else equivalent * through,
    )


def surface_m2(size: Size, mass_kg: float) -> float:
    """The outer surface, m², of one piece at a mass."""
    piece = grown(size, mass_kg)
    a, b, c = piece.thickness_m / 2, piece.width_m / 2, piece.length_m / 2
    if piece.shape in ("slab", "taper"):
        return _plate(piece, 1.0 if size.thin_end_m is None else size.thin_end_m / size.thickness_m)
    if piece.shape in ("ecyl", "dcyl", "cyl"):
        return _round_edge(a, b) * piece.length_m + 2 * pi * a * b
    if piece.shape == "shell":
        return 2 * pi * b * c
    if piece.shape == "block":
        a, b, c = (side * rounded(piece) for side in (a, b, c))
    powers = ((a * b) ** _THOMSEN, (a * c) ** _THOMSEN, (b * c) ** _THOMSEN)
    return float(4 * pi * (sum(powers) / 3) ** (1 / _THOMSEN))


def rounded(block: Size) -> float:
    """How many times larger than the ellipsoid in its box a rounded block is, in each side, by its fill."""
    return float((block.fill * 6 / pi) ** (1 / 3))


def _plate(piece: Size, thin_end: float) -> float:
    """Two faces and the edge of a flat piece that fills its part of its box; `thin_end` in thicknesses."""
    mean_m = piece.thickness_m * (1 + thin_end) / 2
    outline = min(1.0, piece.fill * piece.thickness_m / mean_m)
    faces = 2 * piece.width_m * piece.length_m * outline
    return float(faces + 2 * (piece.width_m + piece.length_m) * sqrt(outline) * mean_m)


def _round_edge(a: float, b: float) -> float:
    """The way round an ellipse of half axes a and b: Ramanujan's first formula."""
    return pi * (3 * (a + b) - sqrt((3 * a + b) * (a + 3 * b)))
