"""The whole model, with wraps, rests, moves and air that moves, against SciPy's stiff solver."""

import pytest

from tests.cooking.against import COOKS, gap


@pytest.mark.parametrize("name", COOKS)
def test_the_core_is_the_stiff_solvers(name: str) -> None:
    """Every step's core is within 0.08 K of BDF's on the same equations, wrap and pull within 10 s."""
    found = gap(COOKS[name])
    assert found.core_k < 0.08
    assert abs(found.wrap_s) < 10.0
    assert abs(found.pull_s) < 10.0
