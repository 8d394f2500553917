"""The solver against exact conduction, its own refinement, and the books of heat and water."""

from dataclasses import replace

import numpy as np
import pytest

from board.cooking.cook import Cook, Rest
from board.cooking.physics.air import boiling_c, pressure_pa
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import middle
from board.cooking.solver import course, step
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.cooking.solver.running import Trace
from board.house.library import library_cut
from tests.cooking import bodies
from tests.cooking.lab import brisket_core_at, core_at, plain_air, plain_meat
from tests.cooking.published import CENTRE_BRISKET, OVEN, centre, published

AFTER_20_MIN = np.arange(1200.0, 4 * 3600 + 1, 600.0)
RADIUS_M, CONDUCTIVITY, HEAT, H = 0.05, 0.46, 3.45e6, 15.0


def exact_core(g: float) -> np.ndarray:
    """The series solution of a body at 5 °C put in air at 115 °C."""
    series = bodies.series(g, H * RADIUS_M / CONDUCTIVITY)
    return 115.0 - 110.0 * series.centre(CONDUCTIVITY / HEAT * AFTER_20_MIN / RADIUS_M**2)


@pytest.mark.parametrize("g", [0.0, 0.37, 1.0, 2.0], ids=["slab", "between", "cylinder", "sphere"])
def test_conduction_is_the_exact_series(g: float) -> None:
    """With evaporation off the core is within 0.05 K of the exact series after 20 minutes."""
    ours = core_at(plain_meat(RADIUS_M, g, CONDUCTIVITY, HEAT), plain_air(H, 115.0), 5.0, AFTER_20_MIN)
    assert np.abs(ours - exact_core(g)).max() < 0.05


def test_the_sphere_has_the_tabled_hours() -> None:
    """A 5 cm sphere at one to four hours: computed apart from this program to 1e-4 K."""
    meat = plain_meat(RADIUS_M, 2.0, CONDUCTIVITY, HEAT, nodes=60)
    ours = core_at(meat, plain_air(H, 115.0), 5.0, 3600.0 * np.arange(1.0, 5.0), 20.0)
    np.testing.assert_allclose(ours, [37.7433, 75.7652, 95.2686, 105.079], atol=0.006)


def test_halving_the_nodes_apart_quarters_the_error() -> None:
    """Second order in space: error ratios of a sphere at 10, 20, 40 nodes lie between 3.5 and 4.5."""
    errors = [
        np.abs(
            core_at(
                plain_meat(RADIUS_M, 2.0, CONDUCTIVITY, HEAT, n), plain_air(H, 115.0), 5.0, AFTER_20_MIN, 15.0
            )
            - exact_core(2.0)
        ).max()
        for n in (10, 20, 40)
    ]
    assert 3.5 < errors[0] / errors[1] < 4.5
    assert 3.5 < errors[1] / errors[2] < 4.5


def test_halving_the_step_quarters_the_difference() -> None:
    """Second order in time, the whole model: a brisket's core at 5 h with steps of 200, 100, 50 s."""
    cores = [brisket_core_at(5 * 3600.0, step) for step in (200.0, 100.0, 50.0, 25.0)]
    apart = np.abs(np.diff(cores))
    orders = np.log2(apart[:-1] / apart[1:])
    assert np.all((orders > 1.8) & (orders < 2.2))


def test_wet_meat_never_passes_boiling() -> None:
    """In a 250 °C oven no core passes its boiling point on the way to 97 °C, nor in the rest."""
    chosen = parameters()
    roast = next(row.cook for row in published() if row.name.startswith("rib roast chart, 2.3"))
    cook = replace(roast, setpoint_c=250.0, until_core_c=97.0, rest=Rest("hold", 60.0, 120.0))
    trace = Trace([], [], [])
    run(ensemble(cook, middle(chosen), chosen), constants(chosen), trace)
    assert np.nanmax(np.array(trace.core)) <= boiling_c(pressure_pa(0.0))


@pytest.mark.parametrize(
    "end", [{"until_core_c": 95.0}, {"until_core_c": 80.0, "tender_minutes": 115.0}], ids=["core", "tender"]
)
def test_an_end_is_within_ten_seconds_of_far_shorter_steps(
    end: dict[str, float], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A core of thirteen hours or tenderness: as steps of at most a minute, an eighth as long, give it."""
    cook = replace(CENTRE_BRISKET, **end)  # type: ignore[arg-type]
    found = centre([cook]).pulled_s[0]
    monkeypatch.setattr(step, "APART_K", step.APART_K / 64.0)
    monkeypatch.setattr(course, "LONGEST_STEP_S", 60.0)
    assert found == pytest.approx(centre([cook]).pulled_s[0], abs=10.0)


def test_no_place_boils_off_more_water_than_it_holds() -> None:
    """Dry for hours in a 300 °C oven, a brisket of 20 kg gives off no more of any place than its water."""
    cook = Cook(library_cut("brisket"), 20.0, 1, OVEN, 300.0, 94.0)
    chosen = parameters()
    members, most = ensemble(cook, middle(chosen), chosen), []

    class Driest(Trace):
        def note(self, now, who, count, fixed) -> None:  # type: ignore[no-untyped-def]
            most.append(float((now.state.boiled + now.state.expelled - now.meat.water).max()))

    run(members, constants(chosen), Driest([], [], []))
    assert -0.05 < max(most) < 1e-7
