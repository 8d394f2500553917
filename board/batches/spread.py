"""How long salt takes to reach the middle of a piece: an order of magnitude to plan by.

Diffusion with one coefficient (data/diffusion.toml) over the slab, cylinder or ball nearest to the
piece. Salt coming from outside must cross half the thickness; injected salt only half the distance
between the needle holes, which it evens out.
"""

from dataclasses import dataclass
from math import sqrt

from board.batches.tables import table
from board.house.model import Size

_SLABS = ("slab", "taper", "shell", "bird", "dome")
_CYLINDERS = ("cyl", "ecyl", "dcyl")


@dataclass(frozen=True, slots=True)
class SaltSpread:
    """Hours until the middle has 90 %, with the range of the published coefficient, over a depth."""

    hours_to_90_percent: float
    hours_low: float
    hours_high: float
    depth_mm: float
    how: str


def from_outside(size: Size) -> SaltSpread:
    """Salt soaking or rubbed in from all sides: centre at 90 % of the surface (Crank's series)."""
    body, depth_m = body_and_depth_m(size)
    fourier = float(table("diffusion")["uptake"][body])
    return _spread(fourier, depth_m, f"from outside, the piece taken as a {body}")


def from_needles() -> SaltSpread:
    """Injected salt evening out between needle holes: the farthest point at 90 % of the mean."""
    data = table("diffusion")
    depth_m = float(data["injection"]["spacing_m"]) / 2
    spacing_mm = 2_000 * depth_m
    return _spread(
        float(data["equalising"]["slab"]), depth_m, f"between needle holes {spacing_mm:g} mm apart"
    )


def in_hours_or_days(hours: float) -> str:
    """A long time as the cook counts it: `68 h`, and past four days `9 days`."""
    return f"{hours:.0f} h" if hours < 96 else f"{hours / 24:.0f} days"


def body_and_depth_m(size: Size) -> tuple[str, float]:
    """The slab, cylinder or sphere that stands for a piece, and its half thickness or radius.

    Birds and shells are slabs of their equivalent thickness; rounds and balls have the radius that
    gives the ellipse or ellipsoid of the same sides: n / R² = Σ 1 / aᵢ² over its n half sides.
    """
    half = (size.thickness_m / 2, size.width_m / 2, size.length_m / 2)
    if size.shape in _SLABS:
        return "slab", (size.equivalent_thickness_m or size.thickness_m) / 2
    if size.shape in _CYLINDERS:
        return "cylinder", _round_radius(half[:2])
    return "sphere", _round_radius(half)


def _round_radius(half_sides: tuple[float, ...]) -> float:
    return sqrt(len(half_sides) / sum(1 / a**2 for a in half_sides))


def _spread(fourier: float, depth_m: float, how: str) -> SaltSpread:
    """Fourier number D t / L² turned into hours, at the usual, fastest and slowest coefficient."""
    salt = table("diffusion")["salt_in_pork"]
    d_m2_s, give = float(salt["d_m2_s"]), float(salt["plus_minus_m2_s"])
    usual, low, high = (fourier * depth_m**2 / d / 3_600 for d in (d_m2_s, d_m2_s + give, d_m2_s - give))
    return SaltSpread(usual, low, high, 1_000 * depth_m, how)
