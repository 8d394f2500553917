"""Houses and plans that several planning tests look at, made once."""

from datetime import date

import pytest

from board.planning.planner import plan_day
from tests.planning.by_hand import written

DAY = date(2026, 6, 10)


@pytest.fixture(scope="session")
def two_fires(tmp_path_factory):
    """The house written by hand."""
    return written(tmp_path_factory.mktemp("two_fires"))


@pytest.fixture(scope="session")
def plain_plan(two_fires):
    """Its plan for an ordinary Wednesday."""
    return plan_day(two_fires, DAY, seconds=1)
