"""Moments as the ledger's text: UTC, to the millisecond, in an order that sorts as time does."""

from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from board.errors import LedgerError
from board.ledger.faults import MENDS


def stamp(moment: datetime) -> str:
    """The moment as fixed-width UTC text, such as 2026-12-08T05:41:07.000Z.

    Raises:
        ValueError: for a moment without a zone.
    """
    if moment.tzinfo is None:
        raise ValueError(f"a moment in the ledger needs its zone; got {moment!r}")
    return moment.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="milliseconds") + "Z"


def moment(text: str) -> datetime:
    """The aware UTC moment that a stamp, or any ISO 8601 text with an offset, names."""
    return datetime.fromisoformat(text).astimezone(UTC)


def zone_called(name: str, ledger: Path) -> ZoneInfo:
    """The zone that a ledger says its house is in.

    Raises:
        LedgerError: there is no such zone.
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise LedgerError(f"the ledger {ledger} is of a zone “{name}” that there is not; {MENDS}") from error


def day_text(day: date) -> str:
    """A day as the ledger's text, such as 2026-12-08."""
    return day.isoformat()
