"""The body that stands for a piece: against exact bricks, cylinders and ellipsoids, and as a cut grows."""

from dataclasses import replace

import numpy as np
import pytest

from board.cooking.errors import CookingError
from board.cooking.physics.parameters import parameters
from board.cooking.physics.shape import body_of, brick, cylinder, ellipsoid, solid
from board.cooking.tables import table
from board.house.library import library_cut, library_cuts
from board.house.pieces import grown
from tests.cooking import bodies, ellipsoids

ASKED = np.array([0.8, 0.6, 0.4, 0.3])


@pytest.mark.parametrize(
    "cm", [(8, 28, 45), (12, 16, 20), (12, 12, 12), (5, 20, 30), (10, 20, 35), (6, 9, 60)]
)
@pytest.mark.parametrize("h", [10.0, 15.0, 25.0])
def test_a_brick_heats_in_the_time_of_its_product_solution(cm: tuple[float, ...], h: float) -> None:
    """Time for the centre of a brick through four temperatures: within 4 % of the exact product of slabs."""
    half = [x / 200 for x in cm]
    body = brick(*half)
    exact = bodies.brick_times(*half, h=h, asked=ASKED)
    np.testing.assert_allclose(bodies.body_times(body.radius_m, body.g, h, ASKED), exact, rtol=0.04)


@pytest.mark.parametrize(("diameter_cm", "length_cm"), [(18, 38), (12, 24), (16, 16), (14, 8), (3.2, 12.8)])
@pytest.mark.parametrize("h", [10.0, 15.0, 25.0])
def test_a_short_cylinder_heats_in_the_time_of_its_product_solution(
    diameter_cm: float, length_cm: float, h: float
) -> None:
    """The same for short cylinders, long ones and discs: within 4 %."""
    body = cylinder(diameter_cm / 200, length_cm / 200)
    exact = bodies.cylinder_times(diameter_cm / 200, length_cm / 200, h, ASKED)
    np.testing.assert_allclose(bodies.body_times(body.radius_m, body.g, h, ASKED), exact, rtol=0.04)


@pytest.mark.parametrize(
    "cm", [(15, 24, 39), (10.5, 16, 34), (11.5, 19, 26), (9, 19, 22), (8, 10, 40), (7, 16, 24), (12, 12, 12)]
)
@pytest.mark.parametrize("h", [10.0, 15.0, 25.0])
def test_an_ellipsoid_heats_in_the_time_of_its_ritz_solution(cm: tuple[float, ...], h: float) -> None:
    """Ellipsoids, which have no product solution: within 4 % of the Ritz method's times, 6 % at the start."""
    a, b, c = (x / 200 for x in cm)
    body = ellipsoid(a, b, c)
    exact = ellipsoids.ellipsoid_times((a, b, c), h, ASKED)
    ours = bodies.body_times(body.radius_m, body.g, h, ASKED)
    np.testing.assert_allclose(ours, exact, rtol=0.06)
    np.testing.assert_allclose(ours[1:], exact[1:], rtol=0.04)


@pytest.mark.parametrize("h", [10.0, 25.0])
def test_the_ritz_method_repeats_the_exact_ball(h: float) -> None:
    """On a ball the outside check for ellipsoids agrees with the exact series to a millionth."""
    ball = ellipsoids.ellipsoid_times((0.06, 0.06, 0.06), h, ASKED)
    np.testing.assert_allclose(ball, bodies.body_times(0.06, 2.0, h, ASKED), rtol=1e-6)


def test_the_ritz_method_has_converged() -> None:
    """A ham's times move by under a thousandth when the polynomial loses two degrees."""
    half = (0.075, 0.12, 0.195)
    coarse = ellipsoids.modes(half, 15.0, ellipsoids.DEGREE - 2).centre(np.array([7200.0, 14400.0]))
    np.testing.assert_allclose(
        ellipsoids.modes(half, 15.0).centre(np.array([7200.0, 14400.0])), coarse, rtol=1e-3
    )


def test_the_table_is_what_its_fit_gives() -> None:
    """A row of each table, fitted again, is the row the package carries."""
    for half, ratio, radius, g in table("bodies")["cylinder"]["rows"][17:18]:
        np.testing.assert_allclose(bodies.cylinder_row(half, ratio), (radius, g), atol=2e-3)
    half, b, c, radius, g = table("bodies")["brick"]["rows"][50]
    np.testing.assert_allclose(bodies.brick_row(half, b, c), (radius, g), atol=2e-3)
    half, b, c, radius, g = table("bodies")["ellipsoid"]["rows"][50]
    np.testing.assert_allclose(ellipsoids.ellipsoid_row(half, b, c), (radius, g), atol=2e-3)


@pytest.mark.parametrize("cut", library_cuts().values(), ids=lambda cut: cut.id)
def test_a_heavier_piece_is_never_a_thinner_body(cut) -> None:  # type: ignore[no-untyped-def]
    """For every cut of the library, more mass is never less depth of meat to heat through."""
    masses = np.linspace(cut.mass_kg.low, cut.mass_kg.high, 9)
    depths = [(b := body_of(cut.size, m, parameters())).radius_m / (b.g + 1) for m in masses]
    assert np.all(np.diff(depths) > -1e-6)


def test_an_unknown_shape_is_told_with_those_allowed() -> None:
    """A shape outside the classes is refused in one line that names them."""
    size = replace(library_cut("brisket").size, shape="doughnut")
    with pytest.raises(CookingError, match="no shape called 'doughnut': allowed are slab, taper"):
        solid(size)


@pytest.mark.parametrize(
    ("scale", "grows"),
    [
        ("isometric", (1.2, 1.2, 1.2, 1.2)),
        ("length", (1.0, 1.0, 1.728, 1.0)),
        ("thickness_fixed", (1.0, 1.3145, 1.3145, 1.0)),
    ],
)
def test_a_piece_grows_as_its_cut_says(scale: str, grows: tuple[float, ...]) -> None:
    """At 1.728 times the mass all sizes grow by a fifth, the length alone, or the area at one thickness."""
    size = replace(library_cut("turkey-whole").size, scale=scale)
    heavier = grown(size, 1.728 * size.at_kg)
    names = ("thickness_m", "width_m", "length_m", "equivalent_thickness_m")
    ratios = [getattr(heavier, name) / getattr(size, name) for name in names]
    assert ratios == pytest.approx(grows, rel=1e-3)
