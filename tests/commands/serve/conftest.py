"""A site with its passphrase set, hashed in no time."""

from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from board.ledger import scrypt
from board.ledger.scrypt import Cost

from .sites import House, a_house


@pytest.fixture(autouse=True)
def cheap(monkeypatch: pytest.MonkeyPatch) -> None:
    """New passphrases are hashed in no time."""
    monkeypatch.setattr(scrypt, "COST", Cost(2, 1, 1))


@pytest.fixture
async def house(tmp_path: Path) -> AsyncIterator[House]:
    """A site that nobody is let in to yet."""
    async with a_house(tmp_path) as found:
        yield found
