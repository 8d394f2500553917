"""Hours by the pound against the model."""

import pytest

from tests.cooking.pounds import Told, told

TOLD = told()


@pytest.mark.parametrize(
    "row", [row for row in TOLD if row.share != 1.0], ids=lambda row: f"{row.cut}, {row.share}"
)
def test_a_rule_by_the_pound_overstates_large_pieces_and_understates_small_ones(row: Told) -> None:
    """Set right at the usual mass, a rate by the pound is a tenth or more wrong at half and at double it."""
    assert (row.agreed_h > row.model_h) == (row.share > 1.0)
    if row.share in (0.5, 2.0):
        assert abs(row.agreed_h / row.model_h - 1.0) > 0.1
