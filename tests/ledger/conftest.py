"""A ledger in a temporary folder, with one plan committed."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from board.ledger.open import Ledger, create_ledger
from board.ledger.write import commit_plan

from .by_hand import EVENING, ZONE, plan


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the ledger is."""
    return tmp_path / "board.db"


@pytest.fixture
def ledger(path: Path) -> Iterator[Ledger]:
    """An empty ledger of an invented house."""
    with create_ledger(path, "Cinder & Rye", ZONE, path.parent) as opened:
        yield opened


@pytest.fixture
def planned(ledger: Ledger) -> Ledger:
    """The ledger with a brisket and a glaze planned, committed six hours before loading."""
    at = EVENING - timedelta(hours=5)
    commit_plan(ledger, plan(), who="Ada", at=at, noted_at=at)
    return ledger
