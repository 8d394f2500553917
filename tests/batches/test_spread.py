"""How long salt takes to the middle, against Crank's solutions."""

from math import cos, exp, pi, sin

import pytest
from scipy.optimize import brentq
from scipy.special import j0, j1, jn_zeros

from board.batches.spread import body_and_depth_m, from_needles, from_outside, in_hours_or_days
from board.batches.tables import table
from board.house.model import Size


def size(shape: str, thickness_m: float, width_m: float = 0.2, length_m: float = 0.3) -> Size:
    """A piece of which only the outline matters."""
    return Size(5.0, thickness_m, width_m, length_m, shape, "isometric", 0.7)


def slab_centre(fo: float) -> float:
    """Crank, plane sheet: what the centre has of the surface."""
    terms = ((-1) ** n / (2 * n + 1) * exp(-((2 * n + 1) ** 2) * pi**2 / 4 * fo) for n in range(50))
    return 1 - 4 / pi * sum(terms)


def cylinder_centre(fo: float) -> float:
    """Crank, cylinder: what the axis has of the surface."""
    roots = jn_zeros(0, 50)
    return float(1 - 2 * sum(exp(-(a**2) * fo) * j0(0) / (a * j1(a)) for a in roots))


def sphere_centre(fo: float) -> float:
    """Crank, sphere: what the centre has of the surface."""
    return 1 + 2 * sum((-1) ** n * exp(-(n**2) * pi**2 * fo) for n in range(1, 50))


def far_side_evening_out(fo: float) -> float:
    """Crank, sealed sheet with all solute at first in its last fifth: the far side against the mean."""
    terms = (
        2 / (n * pi * 0.2) * -sin(n * pi * 0.8) * cos(0) * exp(-(n**2) * pi**2 * fo) for n in range(1, 80)
    )
    return 1 + sum(terms)


@pytest.mark.parametrize(
    ("body", "centre"), [("slab", slab_centre), ("cylinder", cylinder_centre), ("sphere", sphere_centre)]
)
def test_uptake_fourier_numbers_are_the_series(body: str, centre):
    """The table's number is where the series reaches 90 % at the centre (slab 1.0311)."""
    assert table("diffusion")["uptake"][body] == pytest.approx(
        brentq(lambda fo: centre(fo) - 0.9, 0.1, 3), abs=1e-4
    )


def test_evening_out_fourier_number_is_the_series():
    """Salt from the outer fifth reaches the far side, 90 % of the mean, at 0.297."""
    found = brentq(lambda fo: far_side_evening_out(fo) - 0.9, 0.05, 2)
    assert table("diffusion")["equalising"]["slab"] == pytest.approx(found, abs=5e-4)


def test_a_five_centimetre_slab_takes_weeks():
    """25 mm to the middle at 1.9e-10 m²/s (Springer 2015, ch. 47) is 39.3 days, 34 to 46 over its range."""
    spread = from_outside(size("slab", 0.05))
    assert spread.hours_to_90_percent / 24 == pytest.approx(39.3, abs=0.05)
    assert spread.depth_mm == 25
    assert (spread.hours_low / 24, spread.hours_high / 24) == pytest.approx((34.2, 46.0), abs=0.1)


def test_injection_shortens_the_way():
    """Needle holes 25 mm apart leave 12.5 mm to even out: 2.8 days, beside two days of common practice."""
    assert from_needles().hours_to_90_percent / 24 == pytest.approx(2.83, abs=0.02)


def test_round_pieces_are_quicker_than_flat_ones_of_the_same_thickness():
    """The same thickness reached from more sides takes less time."""
    slab, cylinder = from_outside(size("slab", 0.1, 0.1, 0.1)), from_outside(size("ecyl", 0.1, 0.1, 0.1))
    ball = from_outside(size("ellip", 0.1, 0.1, 0.1))
    assert slab.hours_to_90_percent > cylinder.hours_to_90_percent > ball.hours_to_90_percent


def test_a_true_cylinder_and_ball_keep_their_radius():
    """Equal sides give back the radius itself."""
    assert body_and_depth_m(size("cyl", 0.1, 0.1)) == ("cylinder", pytest.approx(0.05))
    assert body_and_depth_m(size("ellip", 0.1, 0.1, 0.1)) == ("sphere", pytest.approx(0.05))


def test_a_bird_counts_by_its_meat_not_its_outline():
    """A bird is a slab of its equivalent thickness: the hollow is no meat."""
    bird = Size(6.5, 0.17, 0.25, 0.34, "bird", "isometric", 0.41, equivalent_thickness_m=0.107)
    assert body_and_depth_m(bird) == ("slab", pytest.approx(0.0535))


def test_long_times_are_told_in_days():
    """Hours to four days, days past them."""
    assert (in_hours_or_days(67.8), in_hours_or_days(1_099)) == ("68 h", "46 days")
