"""Which loads came off their pits and have something left of them that nobody accounted for."""

import json
from datetime import date

from board.ledger import record
from board.ledger.fold import standing
from board.ledger.keys import load_key
from board.ledger.open import Ledger
from board.ledger.state import OFF_AND_THERE, Entry, WatchKind
from board.ledger.times import day_text


def days_with_left(ledger: Ledger, first: date, last: date) -> list[date]:
    """The planned days from first to last of whose loads something is off its pit and not gone."""
    rows = ledger.rows(
        """SELECT DISTINCT day FROM loads WHERE day BETWEEN ? AND ? AND portions_left > 0
        AND stage IN (SELECT value FROM json_each(?)) ORDER BY day""",
        (day_text(first), day_text(last), json.dumps(OFF_AND_THERE)),
    )
    return [date.fromisoformat(row["day"]) for row in rows]


def set_to_cool(ledger: Ledger, first: date) -> frozenset[tuple[date, str]]:
    """The loads of the days from first on that were set to cool, however that ended: by day and id."""
    rows = ledger.rows(
        "SELECT DISTINCT load_day, load FROM watches WHERE kind = ? AND load IS NOT NULL AND load_day >= ?",
        (WatchKind.COOLING, day_text(first)),
    )
    return frozenset((date.fromisoformat(row["load_day"]), row["load"]) for row in rows)


def last_sale(ledger: Ledger, day: date, load: str) -> Entry | None:
    """The last sale that was taken from a load and stands."""
    bearing = record.bearing_on(ledger, load_key(day, load))
    return next((one for one in reversed(standing(bearing)) if one.kind == "sale"), None)
