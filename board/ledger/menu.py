"""What is promised and sold of each item at each service, and which loads a sale is taken from."""

from datetime import date, timedelta
from typing import Any

from board.errors import LedgerError
from board.ledger import typed
from board.ledger.open import Ledger
from board.ledger.times import day_text


def place(day: date, service: str, item: str) -> dict[str, str]:
    """A day, a service and an item, checked, as an entry's data."""
    service, item = typed.name(service, "the service"), typed.name(item, "the item")
    if "/" in service:
        raise LedgerError(f"a service is not named {service}; give its id, without a /")
    return {"day": day_text(day), "service": service, "item": item}


def taken(ledger: Ledger, day: date, item: str, portions: int) -> list[dict[str, Any]]:
    """From which loads so many portions come: those off the pit, of that day first, then the oldest first."""
    left, parts = portions, []
    for row in _off_the_pit(ledger, day, item):
        part = min(left, row["portions_left"])
        if part:
            parts.append({"load": row["id"], "day": row["day"], "portions": part})
        left -= part
    return parts


def _off_the_pit(ledger: Ledger, day: date, item: str) -> list[dict[str, Any]]:
    return ledger.rows(
        """SELECT day, id, portions_left FROM loads WHERE day BETWEEN ? AND ? AND item = ?
        AND stage IN ('pulled', 'resting', 'holding') AND portions_left > 0
        ORDER BY day DESC, pulled_at, id""",
        (day_text(day - timedelta(days=1)), day_text(day), item),
    )
