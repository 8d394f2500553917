"""Cooking higher up: thinner air, water that boils and evaporates sooner."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.cooking.cook import Cook, PitAir
from board.cooking.errors import CookingError
from board.cooking.estimate import Estimate, estimate
from board.cooking.physics.air import boiling_c, pressure_pa
from board.house.library import library_cut, library_cuts
from board.house.model import PitKind

CABINET = PitAir.usual(PitKind.CABINET)
BRISKET = Cook(library_cut("brisket"), 6.5, 1, CABINET, 121.0, 85.0)

few = settings(max_examples=12, deadline=None, derandomize=True)


def asked(cook: Cook) -> Estimate:
    """The estimate of one cook, with its curve."""
    return estimate([cook], members=8, curves=True)[0]


@few
@given(st.sampled_from(sorted(library_cuts())), st.floats(0.0, 4000.0), st.floats(130.0, 250.0))
def test_no_core_passes_the_boiling_point_of_its_height(
    cut_id: str, altitude_m: float, setpoint_c: float
) -> None:
    """At any height, in any oven, every member's core stays at or below where its juice boils."""
    cut, boils_c = library_cut(cut_id), boiling_c(pressure_pa(altitude_m))
    cook = Cook(cut, cut.mass_kg.usual, 1, CABINET, setpoint_c, boils_c - 1.0, altitude_m=altitude_m)
    found = asked(replace(cook, tender_minutes=120.0))
    assert found.pulled_core_c.p90 <= boils_c + 1e-9
    assert found.curve is not None
    assert found.curve.core_p90.max() <= boils_c + 1e-9


def test_a_wet_surface_stands_cooler_higher_up() -> None:
    """While a brisket is wet its surface is cooler at 2,500 m, where water evaporates more readily."""
    low, high = estimate([replace(BRISKET, altitude_m=m) for m in (0.0, 2500.0)], members=16, curves=True)
    assert low.curve is not None
    assert high.curve is not None
    wet = (low.curve.minutes > 30.0) & (low.curve.minutes < 120.0)
    apart = low.curve.surface_p50[wet] - high.curve.surface_p50[: len(low.curve.minutes)][wet]
    assert apart.mean() > 0.5


def test_a_core_out_of_reach_is_told_with_the_height() -> None:
    """203 °F cannot be reached at 2,500 m, where water boils at 91.5 °C; the line says so."""
    with pytest.raises(CookingError, match=r"91\.\d °C at 2500 m.*ask for 91 °C or less"):
        estimate([replace(BRISKET, until_core_c=95.0, altitude_m=2500.0)], members=8)
