"""What is promised and sold of each item at each service, and which loads a sale is taken from."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any

from board.errors import LedgerError
from board.ledger import typed
from board.ledger.open import Ledger
from board.ledger.times import day_text, stamp


def place(day: date, service: str, item: str) -> dict[str, str]:
    """A day, a service and an item, checked, as an entry's data."""
    service, item = typed.name(service, "the service"), typed.name(item, "the item")
    if "/" in service:
        raise LedgerError(f"a service is not named {service}; give its id, without a /")
    return {"day": day_text(day), "service": service, "item": item}


def taken(ledger: Ledger, where: Mapping[str, str], portions: int, at: datetime) -> list[dict[str, Any]]:
    """From which loads so many portions of a sale come.

    From those off the pit: by then before later, of that day before the day before, those that are for that
    service before others, the oldest first.
    """
    left, parts = portions, []
    for row in _off_the_pit(ledger, where, at):
        part = min(left, row["portions_left"])
        if part:
            parts.append({"load": row["id"], "day": row["day"], "portions": part})
        left -= part
    return parts


def _off_the_pit(ledger: Ledger, where: Mapping[str, str], at: datetime) -> list[dict[str, Any]]:
    before = day_text(date.fromisoformat(where["day"]) - timedelta(days=1))
    return ledger.rows(
        """WITH own AS (
            SELECT json_extract(load.value, '$.id') AS id
            FROM plans p, json_each(p.document, '$.loads') load, json_each(load.value, '$.services') service
            WHERE p.day = :day AND service.value = :service
            AND p.version = (SELECT max(version) FROM plans WHERE day = :day))
        SELECT day, id, portions_left FROM loads WHERE day BETWEEN :before AND :day AND item = :item
        AND stage IN ('pulled', 'resting', 'holding') AND portions_left > 0
        ORDER BY pulled_at <= :at DESC, day DESC, day = :day AND id IN (SELECT id FROM own) DESC,
        pulled_at, id""",
        {**where, "before": before, "at": stamp(at)},
    )
