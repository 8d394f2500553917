"""Air that moves during a cook: setpoints, lids, readings, another pit; held against SciPy and integrals."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.cooking.cook import AirCurve, Cook, Move
from board.cooking.errors import CookingError
from board.cooking.physics.parameters import parameters
from board.cooking.pit_air import Opening, Setpoint, expected_air
from board.cooking.sampling import middle
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.cooking.solver.pit_airs import GRID_S, PitAirs
from board.cooking.solver.running import Course, Trace
from board.house.model import PitKind, Work, Wrap, WrapMaterial
from tests.cooking.published import CENTRE_BRISKET, air


def cooked(cook: Cook) -> tuple[Course, Trace]:
    """The middle member's course."""
    trace, chosen = Trace([], [], []), parameters()
    return run(ensemble(cook, middle(chosen), chosen), constants(chosen), trace), trace


@given(
    st.lists(st.tuples(st.integers(0, 900), st.floats(60, 160)), min_size=1, max_size=8),
    st.floats(0, 50_000),
    st.floats(1, 5_000),
)
def test_a_steps_air_is_the_mean_of_the_curve(
    knots: list[tuple[int, float]], start: float, step: float
) -> None:
    """Any step's air is the curve's own integral, but for what half a minute at each end may hide.

    Within a cell of the table the air counts as even: a line of slope s departs from that by s h²/8 K s.
    """
    by_minute = dict(sorted(knots))
    curve = AirCurve(tuple(map(float, by_minute)), tuple(by_minute.values()))
    ours = PitAirs.of(curve).mean(np.zeros(1, dtype=int), np.array([start]), np.array([step]))[0]
    seconds = np.linspace(start, start + step, 6001)
    theirs = np.trapezoid(np.interp(seconds / 60.0, curve.minutes, curve.celsius), seconds) / step
    steepest = max(np.abs(np.diff(curve.celsius) / np.diff(curve.minutes)), default=0.0) / 60.0
    assert ours == pytest.approx(theirs, abs=2 * steepest * GRID_S**2 / 8 / step + 0.01)


def test_air_nears_its_setpoint_in_the_recovery_time() -> None:
    """95 % of a setpoint's change is made in the recovery time; an opened lid comes back alike."""
    curve = expected_air([Setpoint(0.0, 110.0), Setpoint(60.0, 130.0)], 10.0, openings=[Opening(120.0)])
    at = lambda minute: float(np.interp(minute, curve.minutes, curve.celsius))  # noqa: E731
    assert at(59.0) == pytest.approx(110.0)
    assert at(70.0) == pytest.approx(129.0, abs=0.05)
    assert at(122.0) < 80.0
    assert at(132.0) == pytest.approx(130.0, abs=3.0)


def test_a_pit_without_recovery_still_comes_to_its_setpoint() -> None:
    """A recovery of nought minutes is taken as one; the air does not stay where it was."""
    curve = expected_air([Setpoint(0.0, 110.0), Setpoint(60.0, 130.0)], 0.0)
    assert np.interp(62.0, curve.minutes, curve.celsius) == pytest.approx(130.0, abs=0.5)


def test_a_lid_opened_while_a_door_stands_open_never_turns_time_back() -> None:
    """Minutes never fall, and the air comes back only once the longer opening has ended."""
    openings = [Opening(5.0, 10.0), Opening(6.0, 1.0), Opening(6.0, 1.0)]
    curve = expected_air([Setpoint(0.0, 110.0)], 10.0, openings=openings)
    assert np.all(np.diff(curve.minutes) >= 0.0)
    assert np.interp(15.5, curve.minutes, curve.celsius) < 70.0


def test_air_is_what_was_read_until_the_last_reading() -> None:
    """Readings are the air; what is expected starts at the last of them."""
    curve = expected_air([Setpoint(0.0, 110.0)], 10.0, measured=[(0.0, 100.0), (30.0, 104.0)])
    assert np.interp(15.0, curve.minutes, curve.celsius) == pytest.approx(102.0)
    assert np.interp(40.0, curve.minutes, curve.celsius) == pytest.approx(109.7, abs=0.05)
    assert curve.measured_until == 30.0
    with pytest.raises(CookingError, match="setpoint from loading"):
        expected_air([], 10.0)


def test_a_cook_in_steady_air_is_the_cook_at_its_setpoint() -> None:
    """Telling the setpoint as a curve changes nothing beyond rounding."""
    plain, _ = cooked(CENTRE_BRISKET)
    told, _ = cooked(replace(CENTRE_BRISKET, air=AirCurve((0.0, 300.0), (114.0, 114.0))))
    assert told.pulled_s[0] == pytest.approx(plain.pulled_s[0], rel=1e-9)


def test_a_wrap_by_the_clock_is_a_wrap_by_the_core_it_happens_at() -> None:
    """Wrapping at the minute the core would pass 70 °C gives the same pull, within 5 s of 11 h."""
    foil = Wrap(WrapMaterial.FOIL, 70.0, Work())
    by_core, _ = cooked(replace(CENTRE_BRISKET, wrap=foil))
    minute = by_core.wrapped_s[0] / 60.0
    by_clock, _ = cooked(replace(CENTRE_BRISKET, wrap=foil, wrap_minute=minute))
    assert by_clock.wrapped_s[0] == pytest.approx(by_core.wrapped_s[0], abs=1e-3)
    assert by_clock.pulled_s[0] == pytest.approx(by_core.pulled_s[0], abs=5.0)


def test_a_move_to_the_same_pit_changes_nothing_and_to_a_hotter_one_hurries() -> None:
    """Half way, to a twin: the same pull; to a hotter, windier pit: earlier, however it is wrapped."""
    still, _ = cooked(CENTRE_BRISKET)
    twin, _ = cooked(replace(CENTRE_BRISKET, move=Move(400.0, CENTRE_BRISKET.pit, 114.0)))
    hot = air(PitKind.CABINET, 18.0, 0.05)
    hotter, _ = cooked(replace(CENTRE_BRISKET, move=Move(400.0, hot, 135.0)))
    assert twin.pulled_s[0] == pytest.approx(still.pulled_s[0], rel=1e-4)
    assert hotter.pulled_s[0] < 0.85 * still.pulled_s[0]
