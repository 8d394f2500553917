"""Softening by temperature."""

import numpy as np
import pytest

from board.cooking.physics.tenderness import pace


def test_a_day_at_68_is_an_hour_and_a_half_at_93() -> None:
    """The two anchors of practice the activation energy stands for (common practice, no source)."""
    assert 24.0 * pace(np.array([68.0]))[0] == pytest.approx(1.5 * pace(np.array([93.0]))[0], rel=0.05)


def test_hotter_softens_sooner() -> None:
    """Pace grows with temperature, and is one at 93 °C."""
    paces = pace(np.array([60.0, 80.0, 93.0, 99.0]))
    assert np.all(np.diff(paces) > 0)
    assert paces[2] == pytest.approx(1.0)
