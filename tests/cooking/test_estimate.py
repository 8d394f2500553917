"""Estimates: ordered, repeatable, independent of their neighbours."""

from dataclasses import replace

import numpy as np
import pytest

from board.cooking.cook import AirCurve, Cook, Move, PitAir, Rest
from board.cooking.errors import CookingError
from board.cooking.estimate import estimate
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import drawn
from board.cooking.solver.ensemble import ensemble
from board.house.library import library_cut, library_cuts
from board.house.model import Composition, PitKind, Work, Wrap, WrapMaterial
from board.house.spans import Spread

BRISKET = Cook(library_cut("brisket"), 6.5, 1, PitAir.usual(PitKind.OFFSET), 118.0, 94.0)
HALF = Cook(library_cut("chicken-half"), 0.7, 6, PitAir.usual(PitKind.CABINET), 135.0, 77.0)
STEADY = replace(PitAir.usual(PitKind.OFFSET), control_band_c=0.0, unevenness_c=0.0)
FOIL = Wrap(WrapMaterial.FOIL, 70.0, Work())


def cook_of(cut_id: str, kind: PitKind, setpoint_c: float, ratio: float = 1.0) -> Cook:
    """A library cut at a part of its usual weight, pulled well below the pit's air."""
    cut = library_cut(cut_id)
    return Cook(cut, ratio * cut.mass_kg.usual, 1, PitAir.usual(kind), setpoint_c, min(cut.pull_core_c, 85.0))


def middle(cook: Cook) -> float:
    """The median minutes of a small ensemble."""
    return estimate([cook], members=16)[0].minutes.p50


def test_a_span_runs_from_early_to_late() -> None:
    """The 10th percentile comes before the median, the median before the 90th, for every cut."""
    cooks = [cook_of(cut, PitKind.CABINET, 125.0) for cut in library_cuts()]
    for cook, found in zip(cooks, estimate(cooks, members=32), strict=True):
        assert found.minutes.p10 < found.minutes.p50 < found.minutes.p90, cook.cut.id
        assert found.member_minutes.shape == (32,)
        assert 5.0 < found.loss_percent.p50 < 45.0


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize(
    ("cut", "kg", "kind", "setpoint_c"),
    [
        ("brisket", 150.0, PitKind.OFFSET, 300.0),
        ("brisket", 60.0, PitKind.OFFSET, 118.0),
        ("lamb-shoulder", 9.2, PitKind.OVEN, 118.0),
        ("chicken-half", 150.0, PitKind.OFFSET, 300.0),
    ],
)
def test_a_dry_surface_stays_on_its_course(cut: str, kg: float, kind: PitKind, setpoint_c: float) -> None:
    """A huge piece, dry for hours in hot air, loses no more than its water, and no sum overflows."""
    raw = library_cut(cut)
    found = estimate([Cook(raw, kg, 3, PitAir.usual(kind), setpoint_c, raw.pull_core_c)], members=16)[0]
    assert 0.0 < found.loss_percent.p10 <= found.loss_percent.p90 < 100.0 * raw.composition.water


@pytest.mark.parametrize("shares", [(0, 0, 1, 0), (0, 1, 0, 0), (0.02, 0, 0.98, 0)])
def test_meat_without_water_is_refused(shares: tuple[float, float, float, float]) -> None:
    """A composition without water, such as all fat, is refused in one line before any sum."""
    cut = replace(BRISKET.cut, composition=Composition(*shares))
    with pytest.raises(CookingError, match="at least 5% of water"):
        estimate([replace(BRISKET, cut=cut)], members=16)


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("high", [0.0, 0.03])
def test_bone_dry_air_cooks_too(high: float) -> None:
    """A range of humidity that begins at nought, or is nought, is a range like any other."""
    dry = replace(BRISKET.pit, humidity=Spread(0.0, high / 2, high))
    assert middle(replace(BRISKET, pit=dry)) > 0.0


def test_the_same_seed_gives_the_same_bytes() -> None:
    """Two runs with one seed agree to the last bit; another seed differs a little."""
    first, second = (estimate([BRISKET, HALF], members=24, seed=3) for _ in range(2))
    other = estimate([BRISKET], members=24, seed=4)[0]
    for a, b in zip(first, second, strict=True):
        assert a.member_minutes.tobytes() == b.member_minutes.tobytes()
    assert other.member_minutes.tobytes() != first[0].member_minutes.tobytes()
    assert other.minutes.p50 == pytest.approx(first[0].minutes.p50, rel=0.1)


def test_neighbours_do_not_change_an_estimate() -> None:
    """A cook asked alone and among others has the same members to the last bit."""
    wrapped = replace(BRISKET, wrap=FOIL, rest=Rest("room", 30.0))
    hot = replace(HALF, setpoint_c=230.0, pit=PitAir.usual(PitKind.OVEN))
    together = estimate([hot, wrapped, HALF, BRISKET], members=24)
    for cook, found in ((wrapped, together[1]), (HALF, together[2]), (BRISKET, together[3])):
        alone = estimate([cook], members=24)[0]
        assert alone.member_minutes.tobytes() == found.member_minutes.tobytes()
        assert alone.peak_after_pull_c == found.peak_after_pull_c


def test_a_thin_cut_waits_to_be_tender() -> None:
    """Spare ribs are on well after their core is hot, and tougher ones longer; the core asked is passed."""
    ribs = cook_of("spare-ribs", PitKind.CABINET, 121.0)
    plain, usual, tough = (replace(ribs, tender_minutes=minutes) for minutes in (0.0, 180.0, 240.0))
    assert middle(plain) + 30 < middle(usual) < middle(tough)
    curve = estimate([usual], members=16, curves=True)[0].curve
    assert curve is not None
    assert curve.core_p50[-1] > ribs.until_core_c + 2.0


def test_more_pieces_take_longer() -> None:
    """The slowest of twelve comes after the slowest of one."""
    one, twelve = (estimate([replace(BRISKET, pieces=n)], members=64)[0] for n in (1, 12))
    assert twelve.minutes.p50 > 1.02 * one.minutes.p50


def test_a_wrap_is_timed_and_a_rest_carries_on() -> None:
    """A wrapped cook tells when to wrap; a rest tells the highest core after the pull."""
    found = estimate([replace(BRISKET, wrap=FOIL, rest=Rest("cooler", 60.0))], members=24)[0]
    assert found.wrap_minutes is not None
    assert found.wrap_minutes.p50 < found.minutes.p50
    assert found.peak_after_pull_c is not None
    assert 94.0 < found.peak_after_pull_c.p50 < 100.0


def test_a_curve_rises_from_the_start_to_the_pull() -> None:
    """The curve starts at the start, its spans are in order, and its stall lies within it."""
    found = estimate([BRISKET], members=24, curves=True)[0]
    curve, stall = found.curve, found.stall
    assert curve is not None
    assert stall is not None
    assert curve.core_p50[0] == pytest.approx(4.0, abs=0.2)
    assert np.all(curve.core_p10 <= curve.core_p90)
    assert 0 < stall.from_minute < stall.to_minute <= found.minutes.p50
    assert 55.0 < stall.core_c < 80.0


def test_what_was_lost_stays_lost() -> None:
    """A fire that goes out for a while, or a lid, cools the surface; no loss is taken back by it."""
    out = AirCurve((0.0, 500.0, 501.0, 600.0, 601.0), (118.0, 118.0, 40.0, 40.0, 118.0))
    curve = estimate([replace(BRISKET, air=out)], members=16, curves=True)[0].curve
    assert curve is not None
    assert np.all(np.diff(curve.loss_percent_p50) >= 0.0)


def test_no_more_fat_melts_out_than_is_there() -> None:
    """However far a member's fat departs, it sheds at most all of it."""
    chosen = parameters()
    melting = ensemble(BRISKET, drawn(BRISKET, 400, 0, chosen), chosen).meat.renders
    assert melting.max() == BRISKET.cut.composition.fat
    assert melting.min() < 0.8 * BRISKET.cut.composition.fat


def test_a_rest_leaves_the_curve_on_the_pit_as_it_was() -> None:
    """A long cold rest after the pull changes nothing before it."""
    rested, plain = (
        estimate([replace(BRISKET, rest=rest)], members=16, curves=True)[0]
        for rest in (Rest("room", 600.0), None)
    )
    assert rested.curve is not None
    assert plain.curve is not None
    np.testing.assert_allclose(rested.curve.core_p50, plain.curve.core_p50, atol=0.1)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"setpoint_c": 90.0}, "a pit at 90 °C cannot bring the core to 94 °C"),
        (
            {"setpoint_c": 94.2, "pit": STEADY, "mass_kg": 20.0},
            "does not bring the core to 94 °C within 48 h",
        ),
        (
            {"setpoint_c": 70.0, "until_core_c": 55.0, "tender_minutes": 115.0},
            "a pit at 70 °C does not make it tender, its core at 55 °C or more, within 48 h",
        ),
        ({"move": Move(-5.0, STEADY, 130.0)}, "a load is moved once it is on"),
        ({"move": Move(5.0, STEADY, 900.0)}, "a pit runs at"),
        ({"wrap": FOIL, "wrap_minute": -5.0}, "a load is wrapped once it is on"),
        ({"until_core_c": 103.0}, "no core passes its boiling point"),
        ({"until_core_c": 95.0, "altitude_m": 2500.0}, "no core passes its boiling point"),
        ({"start_c": -18.0}, "frozen"),
        ({"pieces": 0}, "a load has 1 to 2000 pieces"),
        ({"mass_kg": 0.0}, "a piece weighs"),
        ({"setpoint_c": 900.0}, "a pit runs at"),
        ({"until_core_c": 2.0}, "but starts at"),
        ({"rest": Rest("room", 99999.0)}, "a rest lasts at most 7 days"),
        ({"rest": Rest("garden", 5.0)}, "a rest is in the room, cooler, hold"),
        ({"rest": Rest("hold", 60.0, hold_c=140.0)}, "a hold stands at 10 to 99 °C"),
        ({"rest": Rest("hold", 60.0, hold_humidity=1.2)}, "a hold's humidity is 0 to 100 %"),
    ],
)
def test_a_cook_that_cannot_be_is_told_in_one_line(change: dict[str, object], said: str) -> None:
    """Each impossible cook ends in one line that says why."""
    with pytest.raises(CookingError, match=said) as caught:
        estimate([replace(BRISKET, **change)], members=16)  # type: ignore[arg-type]
    assert "\n" not in str(caught.value)
