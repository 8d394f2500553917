"""How salt spreads in a piece, against Crank's exact series, a grid of the solid, and the published rows."""

from dataclasses import replace
from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.special import erf, j1, jn_zeros, jv

from board.batches.diffusion import evened_out, soaked, when
from board.batches.shares import Line
from board.batches.solids import depth_m, first_root, slowest_decay, solid_of
from board.batches.spread import (
    from_needles,
    from_outside,
    half_way_mm,
    in_hours_or_days,
    nitrite_m2_s,
    salt_m2_s,
)
from board.batches.spread_words import instead_says, spread_says
from board.errors import BoardError
from board.house.library import library_cuts
from board.house.model import Size

FOURIER = (0.002, 0.02, 0.1, 0.3, 1.0)
LOTS = np.arange(1, 400)


def size(shape: str, thickness_m: float, width_m: float = 0.2, length_m: float = 0.3) -> Size:
    """A piece of which only the outline matters."""
    return Size(5.0, thickness_m, width_m, length_m, shape, "isometric", 0.7)


def slab(fo: float) -> tuple[float, float]:
    """Crank, plane sheet with a constant surface: the centre's share and the mean."""
    odd = 2 * np.arange(200) + 1
    decay = np.exp(-(odd**2) * pi**2 / 4 * fo)
    return 1 - 4 / pi * sum((-1.0) ** np.arange(200) / odd * decay), 1 - 8 / pi**2 * sum(decay / odd**2)


def cylinder(fo: float) -> tuple[float, float]:
    """Crank, long cylinder: the axis's share and the mean."""
    roots = jn_zeros(0, 200)
    decay = np.exp(-(roots**2) * fo)
    return 1 - 2 * sum(decay / (roots * j1(roots))), 1 - 4 * sum(decay / roots**2)


def ball(fo: float) -> tuple[float, float]:
    """Crank, sphere: the centre's share and the mean."""
    decay = np.exp(-(LOTS**2) * pi**2 * fo)
    return 1 + 2 * sum((-1.0) ** LOTS * decay), 1 - 6 / pi**2 * sum(decay / LOTS**2)


@pytest.mark.parametrize(("g", "exact"), [(0, slab), (1, cylinder), (2, ball)])
@pytest.mark.parametrize("fo", FOURIER)
def test_soaking_in_is_cranks_series(g: int, exact, fo: float):
    """Slab, cylinder and sphere, from the first hours on: middle and mean within 1e-4 of the series."""
    shares = soaked((Line(1.0, g),), 1.0, fo)
    assert (shares.middle, shares.mean) == pytest.approx(exact(fo), abs=1e-4)
    assert shares.outside == 1.0


@pytest.mark.parametrize("fo", FOURIER)
def test_a_brick_and_a_short_cylinder_are_products(fo: float):
    """What a brick lacks is the product of what its three slabs lack; a short cylinder alike."""
    lines = (Line(1.0), Line(2.0), Line(3.0))
    brick = soaked(lines, 1.0, fo)
    alone = [slab(fo / line.half_m**2) for line in lines]
    assert brick.middle == pytest.approx(1 - np.prod([1 - middle for middle, _ in alone]), abs=2e-4)
    assert brick.mean == pytest.approx(1 - np.prod([1 - mean for _, mean in alone]), abs=2e-4)
    short = soaked((Line(1.0, 1.0), Line(2.0)), 1.0, fo)
    assert short.mean == pytest.approx(1 - (1 - cylinder(fo)[1]) * (1 - slab(fo / 4)[1]), abs=2e-4)


ROWS = [
    (12.5, 44.9, 8.1, 9.8),
    (20.0, 115.0, 20.7, 25.1),
    (25.0, 179.8, 32.3, 39.3),
    (50.0, 719.0, 129.2, 157.0),
]


@pytest.mark.parametrize(("half_mm", "half_hours", "mean_days", "centre_days"), ROWS)
def test_the_published_rows_of_a_sheet(
    half_mm: float, half_hours: float, mean_days: float, centre_days: float
):
    """Reference rows (plane sheet, 1.9e-10 m²/s): hours to half the mean, days to 90 % of mean and centre.

    Rows are rounded to 0.1 h and 0.1 day.
    """

    def shares(hours: float):
        return soaked((Line(half_mm / 1_000),), 1.9e-10, 3_600 * hours)

    longest = 400 * 24.0
    at = [
        when(lambda h: shares(h).mean, 0.5, longest),
        when(lambda h: shares(h).mean, 0.9, longest) / 24,
        when(lambda h: shares(h).middle, 0.9, longest) / 24,
    ]
    assert at == pytest.approx([half_hours, mean_days, centre_days], rel=2e-3, abs=0.06)


@pytest.mark.parametrize(("half_mm", "days"), [(12.5, 2.8), (25.0, 11.3), (50.0, 45.2)])
def test_the_published_rest_of_a_sheet(half_mm: float, days: float):
    """All salt in the outer fifth at first: the centre has 90 % of the mean at Fo 0.297 (reference rows)."""
    found = when(lambda h: evened_out(half_mm / 1_000, 0.2, 1.9e-10, 3_600 * h).middle, 0.9, 400 * 24)
    assert found / 24 == pytest.approx(days, abs=0.06)


def test_evening_out_is_what_a_stiff_solver_finds():
    """The sealed sheet between needle holes, beside the same sheet cut into cells and solved by scipy.

    The salt's edge falls between two cells, and cells smear it at first: 1 %.
    """
    cells = 200
    start = np.where((np.arange(cells) + 0.5) / cells > 0.8, 5.0, 0.0)

    def change(_t: float, c: np.ndarray) -> np.ndarray:
        flow = np.diff(c) * cells**2
        return np.append(flow, 0.0) - np.insert(flow, 0, 0.0)

    times = [0.02, 0.1, 0.297]
    found = solve_ivp(change, (0, 0.3), start, method="BDF", t_eval=times, rtol=1e-7, atol=1e-9).y
    for n, fo in enumerate(times):
        shares = evened_out(1.0, 0.2, 1.0, fo)
        assert (shares.middle, shares.outside) == pytest.approx((found[0, n], found[-1, n]), abs=0.01)


def test_resting_sealed_keeps_all_the_salt_and_evens_it():
    """What has soaked in neither leaves nor comes while the piece rests: the mean stays, the middle gains."""
    lines = (Line(0.05), Line(0.08), Line(0.15))
    d = salt_m2_s()[1]
    drained = soaked(lines, d, 3_600 * 48)
    before = drained
    for rest_days in (1, 10, 100, 3_000):
        rested = soaked(lines, d, 3_600 * 48, 86_400 * rest_days)
        assert rested.mean == pytest.approx(drained.mean, rel=1e-6)
        assert rested.middle >= before.middle - 1e-12
        assert rested.outside <= drained.outside
        before = rested
    assert rested.middle == pytest.approx(rested.outside, rel=1e-3)


def test_an_ellipsoid_is_what_a_grid_of_it_finds():
    """A ham's outline, 15 x 24 x 39 cm, on a grid of its eighth: mean within 0.02, middle within 0.04.

    The grid's own stepped outside is worth about 0.01 of the mean at first.
    """
    half, cells = (0.075, 0.12, 0.195), 24
    step = half[0] / cells
    axes = [(np.arange(int(np.ceil(x / step)) + 1) + 0.5) * step for x in half]
    x, y, z = np.meshgrid(*axes, indexing="ij")
    inside = (x / half[0]) ** 2 + (y / half[1]) ** 2 + (z / half[2]) ** 2 < 1
    lack, at, each = inside.astype(float), 0.0, step**2 / 6.5
    solid = solid_of(size("ellip", 0.15, 0.24, 0.39))
    for until in (3e-4, 1e-3, 2e-3):
        while at < until:
            lack = lack + inside * _spread_once(lack) / 6.5
            lack *= inside
            at += each
        shares = soaked(solid, 1.0, at)
        assert shares.mean == pytest.approx(1 - lack.sum() / inside.sum(), abs=0.02)
        assert shares.middle == pytest.approx(1 - lack[0, 0, 0], abs=0.04)


def _spread_once(values: np.ndarray) -> np.ndarray:
    """The sum of each cell's differences with its six neighbours, mirrored at the three middle planes."""
    padded = np.pad(values, 1)
    padded[0], padded[:, 0], padded[:, :, 0] = padded[1], padded[:, 1], padded[:, :, 1]
    around = sum(np.roll(padded, shift, axis) for axis in range(3) for shift in (1, -1))
    return (around - 6 * padded)[1:-1, 1:-1, 1:-1]


def test_the_slowest_decay_of_a_ball_and_of_a_long_rod():
    """A unit ball's is pi squared; a rod fifty times as long as thick is near a cylinder's 2.4048 squared."""
    assert slowest_decay(1, 1, 1) == pytest.approx(pi**2, rel=1e-6)
    assert slowest_decay(1, 1, 50) == pytest.approx(jn_zeros(0, 1)[0] ** 2, rel=0.03)


@pytest.mark.parametrize("g", [0.0, 0.4, 1.0, 1.7, 2.0])
def test_a_lines_first_root_is_a_bessel_functions(g: float):
    """The first wave of a line ends where the Bessel function of order (g - 1)/2 is nought."""
    assert jv((g - 1) / 2, first_root(g)) == pytest.approx(0, abs=1e-9)


def test_a_five_centimetre_slab_takes_weeks():
    """25 mm to the middle of a wide slab is 39.3 days, 34 to 46 over the coefficient's range."""
    spread = from_outside(size("slab", 0.05, 2.0, 2.0))
    assert spread.hours_to_90_percent / 24 == pytest.approx(39.3, abs=0.05)
    assert spread.depth_mm == 25
    assert (spread.hours_low / 24, spread.hours_high / 24) == pytest.approx((34.2, 46.0), abs=0.1)


def test_injection_shortens_the_way():
    """Needle holes 25 mm apart leave 12.5 mm to even out: 2.8 days, beside two days of common practice."""
    spread = from_needles()
    assert spread.hours_to_90_percent / 24 == pytest.approx(2.83, abs=0.02)
    after = spread.after(36.0)
    assert after.slow.middle < after.usual.middle < after.fast.middle < 0.9
    assert after.usual.mean == 1.0


def test_holes_twice_as_far_apart_take_four_times_as_long():
    """Time goes with the square of the distance, so a hand needle's wide holes are uneven for long."""
    near, far = from_needles(0.025), from_needles(0.05)
    assert far.hours_to_90_percent == pytest.approx(4 * near.hours_to_90_percent, rel=1e-3)
    assert far.after(48.0).usual.middle < near.after(48.0).usual.middle
    assert far.depth_mm == 25


def test_halfway_in_is_where_a_deep_solid_has_half():
    """Crank, semi-infinite: the share at depth x is 1 - erf(x / 2 sqrt(D t)), a half at the depth told."""
    deep = half_way_mm(16.0) / 1_000
    assert 1 - erf(deep / (2 * np.sqrt(salt_m2_s()[1] * 3_600 * 16))) == pytest.approx(0.5, abs=1e-4)


def test_nitrite_follows_its_activation_energy_where_it_was_measured():
    """Gomez et al. 2015: 4.58e-12 m²/s at 2 °C, 1.02e-11 at 12 °C (rounded; their energy gives 1.16e-11)."""
    assert nitrite_m2_s(2.0) == pytest.approx(4.58e-12)
    assert nitrite_m2_s(12.0) == pytest.approx(1.02e-11, rel=0.15)
    with pytest.raises(BoardError, match="2 to 12"):
        nitrite_m2_s(20.0)


def test_a_bird_counts_by_its_meat_not_its_outline():
    """A bird is a slab of its equivalent thickness: the hollow is no meat."""
    bird = Size(6.5, 0.17, 0.25, 0.34, "bird", "isometric", 0.41, equivalent_thickness_m=0.107)
    assert solid_of(bird) == (Line(0.0535),)
    assert depth_m(bird) == pytest.approx(0.0535)


def test_every_cut_of_the_library_has_a_solid_salt_gets_through():
    """Whatever the shape, hours are positive and a larger piece takes longer."""
    for cut in library_cuts().values():
        small, large = from_outside(cut.size, cut.mass_kg.low), from_outside(cut.size, cut.mass_kg.high)
        assert 0 < small.hours_to_90_percent <= large.hours_to_90_percent


@given(hours=st.floats(0.5, 5_000), more=st.floats(1.01, 3), rest=st.floats(0, 500))
def test_salt_only_comes_in_and_the_outside_never_has_less(hours: float, more: float, rest: float):
    """Longer in the brine is more in the middle and on average; middle ≤ mean ≤ outside, rested or not."""
    spread = from_outside(size("block", 0.1))
    for found in (spread.after(hours, rest).usual, spread.after(hours * more, rest).usual):
        assert -1e-9 <= found.middle <= found.mean + 1e-6
        assert found.mean <= found.outside + 1e-6 <= 1 + 2e-6
    assert spread.after(hours * more).usual.mean >= spread.after(hours).usual.mean


def test_meat_that_was_never_in_its_brine_has_none_of_its_salt():
    """No hours at all leave nothing in the middle, on average or outside, rested or not."""
    for size_of in (size("block", 0.1), size("slab", 0.05), size("ecyl", 0.1)):
        found = from_outside(size_of).after(0.0, 24.0).usual
        assert (found.middle, found.mean, found.outside, found.middle_of_mean) == (0.0, 0.0, 0.0, 0.0)


def test_long_times_are_told_in_days():
    """Tenths of an hour below ten, hours to four days, days past them."""
    assert (in_hours_or_days(1.5), in_hours_or_days(9.0)) == ("1.5 h", "9 h")
    assert (in_hours_or_days(67.8), in_hours_or_days(1_099)) == ("68 h", "46 days")


def test_the_what_if_of_a_cover_brine_says_how_much_salt_there_is_in_all():
    """Sooner out is not only more uneven but less salted: the share of lying in it for good is told."""
    spread = from_outside(size("block", 0.1))
    spread = replace(spread, planned=spread.after(48.0))
    asked, planned = instead_says(spread, 36.0)
    assert asked.startswith("Ready after 36 h instead of 48 h: the middle has ")
    share = round(100 * spread.after(36.0).usual.mean)
    assert asked.endswith(f"in all it has {share} % of the salt of lying in it for good.")
    assert planned.startswith("After the planned 48 h")
    assert instead_says(spread, 48.0)[0].startswith("Ready after 48 h: ")


def test_the_planned_time_is_told_as_a_cook_can_use_it():
    """Too short says how deep salt is and what to do; long enough that it is even; a pump its needles."""
    spread = from_outside(size("block", 0.1))
    short = spread_says(replace(spread, planned=spread.after(16.0)))
    assert "about 3 mm deep of the 50 mm to the middle" in short[0]
    assert "inject it, or count on a salted outside" in short[-1]
    (long,) = spread_says(replace(spread, planned=spread.after(6_000.0)))
    assert long.endswith("the salt is even to the middle.")
    pumped = from_needles()
    (said,) = spread_says(replace(pumped, planned=pumped.after(48.0)))
    assert said.startswith("48 h after the pump the middle between two holes has 77 % (68–83 %) of the mean")
