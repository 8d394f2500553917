"""From messages to the ledger: read, mapped, thinned, written once a second, and only then done with."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Generic, TypeVar

from board.house.model import House
from board.ledger.open import Ledger

Token = TypeVar("Token")


@dataclass(slots=True)
class Counts:
    """What became of readings and messages since a feed began."""

    kept: int = 0
    thinned: int = 0
    doubled: int = 0
    bad: int = 0


@dataclass(slots=True)
class Intake(Generic[Token]):
    """The way of one source's messages into the ledger.

    Each message comes with a token, such as a packet to be acknowledged or a place in a file; `flush` gives
    back the tokens of what is on disk, or set aside, and need not be sent again.
    """

    ledger: Ledger
    source: str
    house: House
    counts: Counts = field(default_factory=Counts)

    def offer(
        self, message: bytes | str, token: Token, arrived: datetime, *, probe: str | None = None
    ) -> None:
        """Take in one message, or set it aside; nothing a message holds makes this fail.

        `probe` is the one it is about where the message itself names none, as by its topic.
        """
        raise NotImplementedError

    def flush(self, now: datetime, position: str | None = None) -> list[Token]:
        """Write what was offered, in one transaction; the tokens of all messages that are done with.

        Raises:
            LedgerError: it cannot be written now; all stays here for the next flush.
        """
        raise NotImplementedError

    @property
    def is_due(self) -> bool:
        """Whether so much waits that it is to be flushed before its second is over."""
        raise NotImplementedError
