"""Finding the stall in a curve."""

import numpy as np
import pytest

from board.cooking.stall import stall_in

MINUTES = np.arange(0.0, 601.0, 2.0)


def test_a_plateau_is_found() -> None:
    """A core that stands at 66 °C from 200 to 400 minutes has its stall there, to the rate's smoothing."""
    core = np.interp(MINUTES, [0, 200, 400, 600], [5.0, 65.0, 67.0, 95.0])
    found = stall_in(MINUTES, core)
    assert found is not None
    assert found.from_minute == pytest.approx(200.0, abs=8.0)
    assert found.to_minute == pytest.approx(400.0, abs=8.0)
    assert 64.0 < found.core_c < 68.0


def test_a_steady_rise_has_none() -> None:
    """A core that rises evenly has no stall, nor has one that is slow only at the start."""
    assert stall_in(MINUTES, np.linspace(5.0, 95.0, len(MINUTES))) is None
    assert stall_in(MINUTES, np.interp(MINUTES, [0, 200, 600], [5.0, 8.0, 95.0])) is None
