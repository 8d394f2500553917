"""When a cook is done: at a core, tender, or whichever comes last; and what its thin end does meanwhile."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.cooking.cook import Cook, Estimate, PitAir, Rest
from board.cooking.estimate import estimate
from board.cooking.physics.loss import lost_share
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import middle
from board.cooking.solver.course import constants
from board.cooking.solver.ensemble import ensemble
from board.house.library import library_cut, library_cuts
from board.house.model import Cut, PitKind, Work, Wrap, WrapMaterial
from tests.cooking import published as p

CUT = library_cut("brisket")
CABINET = PitAir.usual(PitKind.CABINET)
AT_CORE = Cook(CUT, 6.5, 1, CABINET, 121.0, 90.0)
TENDER = replace(AT_CORE, tender_minutes=CUT.tender_minutes)
COLLAGEN = ("brisket", "brisket-flat", "beef-ribs", "pork-shoulder", "spare-ribs", "lamb-shoulder")
BY_BEND = "spare-ribs"

few = settings(max_examples=10, deadline=None, derandomize=True)


def asked(cook: Cook, members: int = 24, **more: bool) -> Estimate:
    """The estimate of one cook."""
    return estimate([cook], members=members, **more)[0]


def test_the_later_of_core_and_tenderness_ends_a_cook() -> None:
    """Asked for both, every member takes as long as the longer of the two asked for alone."""
    soft = asked(replace(TENDER, until_core_c=60.0)).member_minutes
    for core_c in (85.0, 92.0, 97.0):
        hot = asked(replace(AT_CORE, until_core_c=core_c)).member_minutes
        both = asked(replace(TENDER, until_core_c=core_c)).member_minutes
        np.testing.assert_allclose(both, np.maximum(hot, soft), rtol=2e-3)


def test_a_cooler_pit_is_tender_at_a_lower_core() -> None:
    """Briskets cooked until tender come off cooler in a cooler pit, and depend less on its setpoint."""
    setpoints = (107.0, 121.0, 135.0)
    tender = [asked(replace(TENDER, until_core_c=80.0, setpoint_c=c)) for c in setpoints]
    cores = [found.pulled_core_c.p50 for found in tender]
    assert cores[0] < cores[1] < cores[2]
    hot = [asked(replace(AT_CORE, until_core_c=95.0, setpoint_c=c)) for c in setpoints]
    assert tender[0].minutes.p50 / tender[2].minutes.p50 < hot[0].minutes.p50 / hot[2].minutes.p50


def test_a_low_pit_makes_tender_meat_in_a_day() -> None:
    """A brisket in a pit at 85 °C never comes to 90 °C, but is tender, at 75 °C or so, within two days."""
    found = asked(replace(TENDER, setpoint_c=85.0, until_core_c=65.0))
    assert 65.0 < found.pulled_core_c.p50 < 80.0
    assert 15.0 < found.minutes.p50 / 60 < 40.0


@few
@given(st.floats(10.0, 300.0), st.floats(1.0, 200.0))
def test_tougher_meat_is_never_done_sooner(minutes: float, more: float) -> None:
    """More tenderness asked never ends a cook earlier."""
    cooks = [replace(AT_CORE, tender_minutes=m) for m in (minutes, minutes + more)]
    first, second = (found.member_minutes for found in estimate(cooks, members=8))
    assert np.all(second >= first - 1e-9)


def tender_at(cut: Cut) -> float:
    """The core at which a usual piece is tender on its usual pit, °C."""
    cook = Cook(cut, cut.mass_kg.usual, 1, p.PIT, cut.pit_c.usual, cut.end_core_c, 5.0)
    return float(p.centre([replace(cook, tender_minutes=cut.tender_minutes)]).pulled_c[0])


@pytest.mark.parametrize("cut_id", [id for id in COLLAGEN if id != BY_BEND])
def test_tender_cuts_are_done_near_their_usual_pull(cut_id: str) -> None:
    """A usual piece on its usual pit is tender within 4 K of the range of cores practice pulls it at."""
    cut = library_cut(cut_id)
    assert cut.end_core_c <= tender_at(cut) < cut.pull_core_c + 4.0


def test_thin_ribs_are_tender_only_past_their_usual_pull() -> None:
    """Spare ribs, which are done by bend, stand above their range of cores when they are tender."""
    cut = library_cut(BY_BEND)
    assert cut.pull_core_c < tender_at(cut) < 100.0


def test_only_collagen_cuts_are_cooked_tender() -> None:
    """The library's tender cuts, each with a least core at or below its usual pull."""
    tender = {cut.id: cut for cut in library_cuts().values() if cut.tender_minutes}
    assert set(tender) == set(COLLAGEN)
    assert all(80.0 < cut.end_core_c <= cut.pull_core_c for cut in tender.values())


def test_the_thin_end_is_ahead_of_the_thick_one() -> None:
    """A packer's thin end is at the core long before, and hotter at the pull; the thick end decides."""
    found = asked(AT_CORE, curves=True)
    assert found.thin_end is not None
    assert found.thin_end.minutes is not None
    assert found.thin_end.minutes.p50 < found.minutes.p10
    assert found.thin_end.core_c.p50 > AT_CORE.until_core_c
    assert asked(AT_CORE).minutes == found.minutes


def test_an_even_piece_has_no_thin_end() -> None:
    """A butt is told without one; a thin end as thick as the thick one is never ahead."""
    butt = library_cut("pork-shoulder")
    assert asked(replace(AT_CORE, cut=butt, mass_kg=3.9), curves=True).thin_end is None
    same = replace(CUT, size=replace(CUT.size, thin_end_m=CUT.size.thickness_m))
    found = asked(replace(AT_CORE, cut=same), curves=True)
    assert found.thin_end is not None
    assert found.thin_end.core_c.p50 == pytest.approx(AT_CORE.until_core_c, abs=0.5)


def test_the_point_alone_takes_as_long_as_the_thick_end() -> None:
    """A brick of the point, 10 x 20 x 25 cm, is done within a twentieth of the time the cut's body takes."""
    size = replace(CUT.size, thickness_m=0.10, width_m=0.20, length_m=0.25)
    cooks = [replace(AT_CORE, cut=cut) for cut in (CUT, replace(CUT, size=size))]
    whole, point = (found.minutes.p50 for found in estimate(cooks, members=24))
    assert point == pytest.approx(whole, rel=0.05)


def test_the_loss_grows_along_the_curve_to_the_pull() -> None:
    """Loss starts at nought, never falls, and ends at what is told for the pull."""
    found = asked(replace(AT_CORE, rest=Rest("room", 60.0)), curves=True)
    assert found.curve is not None
    loss = found.curve.loss_percent_p50
    assert loss[0] == 0.0
    assert np.all(np.diff(loss) > -1e-6)
    assert loss[-1] == pytest.approx(found.loss_percent.p50, abs=2.5)


def test_the_thin_end_is_wrapped_with_the_thick_one() -> None:
    """Foil warms the thin end too: it is at the core sooner than the thin end of a bare piece."""
    wrapped = replace(AT_CORE, wrap=Wrap(WrapMaterial.FOIL, 62.0, Work()))
    bare, foil = (asked(cook, curves=True).thin_end for cook in (AT_CORE, wrapped))
    assert bare is not None
    assert foil is not None
    assert bare.minutes is not None
    assert foil.minutes is not None
    assert foil.minutes.p50 < bare.minutes.p50 - 10.0


def test_fat_melts_out_of_the_hotter_places_first() -> None:
    """Of two pieces that have been equally long tender in the core, one hotter outside has shed more fat."""
    chosen = parameters()
    members = ensemble(AT_CORE, middle(chosen), chosen)
    state, meat = members.state, members.meat
    state.tender[:] = 3600.0
    state.celsius[:] = 85.0
    even = lost_share(state, meat, constants(chosen))[0]
    state.celsius[10:] = 95.0
    assert lost_share(state, meat, constants(chosen))[0] > 1.2 * even > 0.0
