"""Orders of one day taken and struck, and serving times put at another time of it."""

from dataclasses import dataclass
from datetime import date, datetime

from board.errors import LedgerError
from board.ledger import menu, store, typed
from board.ledger.append import already, append, last
from board.ledger.facts import OccasionFacts
from board.ledger.keys import occasion_key
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.ledger.times import day_text, stamp


@dataclass(frozen=True, slots=True)
class NewOrder:
    """An order as it is taken: an id nothing else of the day has, who for, when due, and a line of it.

    `item` is what, as promises call it: whole pieces under the name of their cut.
    """

    day: date
    id: str
    name: str
    due: datetime
    item: str
    portions: int


def take_order(ledger: Ledger, order: NewOrder, *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Take an order for a day.

    Args:
        ledger: where to record it.
        order: whose, what and when.
        who: takes it.
        at: when.
        noted_at: now.

    Raises:
        LedgerError: the id is taken, it is due on another day, no such number, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        where = menu.place(order.day, order.id, order.item)
        known = store.stored(ledger, occasion_key(order.day, where["service"]))
        if isinstance(known, OccasionFacts) and known.name is not None and not known.struck:
            raise LedgerError(f"there is an order {order.id} on {order.day} already; give another id")
        name, portions = typed.name(order.name, "who the order is for"), typed.portions(order.portions, 1)
        data = {**where, "name": name, "at": _due(ledger, order.day, order.due), "portions": portions}
        return append(ledger, said, "order", where["service"], data)


def put_due(
    ledger: Ledger, day: date, service: str, due: datetime, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Put a service or an order of a day at another time of that day.

    Raises:
        LedgerError: it is due on another day, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        id = typed.name(service, "the service")
        key, wanted = occasion_key(day, id), _due(ledger, day, due)
        known = store.stored(ledger, key)
        if isinstance(known, OccasionFacts) and known.at is not None and stamp(known.at) == wanted:
            return already(ledger, last(ledger, key).seq)
        return append(ledger, said, "due", id, {"day": day_text(day), "at": wanted})


def strike_order(
    ledger: Ledger, day: date, order: str, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Strike an order of a day: it is no longer cooked for.

    Raises:
        LedgerError: a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        id = typed.name(order, "the order")
        key = occasion_key(day, id)
        known = store.stored(ledger, key)
        if isinstance(known, OccasionFacts) and known.struck:
            return already(ledger, last(ledger, key, kind="strike").seq)
        return append(ledger, said, "strike", id, {"day": day_text(day)})


def _due(ledger: Ledger, day: date, due: datetime) -> str:
    if ledger.day(due) != day:
        raise LedgerError(f"{ledger.date_and_clock(due)} is not on {day}; a time of that day can be promised")
    return stamp(due)
