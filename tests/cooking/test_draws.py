"""What members are drawn from: ranges of practice, the slowest piece of a load, a pit's mean air."""

from dataclasses import replace

import numpy as np
import pytest

from board.cooking.cook import Cook, PitAir
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import Draws, departed_k, drawn, spread_at
from board.house.library import library_cut
from board.house.model import PitKind
from board.house.spans import Spread

BRISKET = Cook(library_cut("brisket"), 6.5, 12, PitAir.usual(PitKind.OFFSET), 118.0, 94.0)


def members(cook: Cook, count: int = 2000) -> Draws:
    """The draws of a cook."""
    return drawn(cook, count, 0, parameters())


def test_a_range_of_practice_leaves_a_twentieth_on_each_side() -> None:
    """Of members drawn through 8, 12, 18, one in twenty lies below 8 and one above 18; the middle is 12."""
    z = members(BRISKET).normal["h"]
    h = spread_at(Spread(8.0, 12.0, 18.0), z)
    assert np.mean(h < 8.0) == pytest.approx(0.05, abs=0.002)
    assert np.mean(h > 18.0) == pytest.approx(0.05, abs=0.002)
    assert np.median(h) == pytest.approx(12.0, rel=1e-3)


def test_one_piece_has_the_mass_that_was_asked() -> None:
    """The mass asked is the mean of the load, so a single piece's mass is known."""
    np.testing.assert_array_equal(members(replace(BRISKET, pieces=1)).mass, 1.0)


def test_the_slowest_piece_is_heavy_thick_and_in_a_cool_place() -> None:
    """On the mean the last of twelve weighs more, is thicker and stands cooler; more so on an uneven pit."""
    even, uneven = (replace(BRISKET, pit=replace(BRISKET.pit, unevenness_c=k)) for k in (0.0, 40.0))
    slow = members(uneven)
    assert np.log(slow.mass).mean() > 0.02
    assert np.log(slow.radius).mean() > 0.005
    assert slow.air_k.mean() < -4.0
    assert members(even).air_k.mean() == pytest.approx(0.0, abs=1e-6)


def test_a_pits_mean_air_departs_by_a_quarter_of_its_band() -> None:
    """One standard deviation of a pit with a band of 20 K is 5 K, for the whole load."""
    band = replace(BRISKET.pit, control_band_c=20.0, unevenness_c=0.0)
    assert departed_k(np.ones(1), band)[0] == pytest.approx(5.0)
    assert members(replace(BRISKET, pit=band)).air_k.std() == pytest.approx(5.0, rel=0.01)


def test_pieces_and_places_leave_the_other_draws_as_they_are() -> None:
    """How many pieces there are, their mass and the setpoint change no other departure, to the last bit."""
    plain = members(BRISKET, 64).normal
    for other in (
        replace(BRISKET, pieces=1),
        replace(BRISKET, mass_kg=4.0, setpoint_c=140.0),
        replace(BRISKET, pit=replace(BRISKET.pit, unevenness_c=30.0, control_band_c=30.0)),
    ):
        for name, values in members(other, 64).normal.items():
            np.testing.assert_array_equal(values, plain[name])
