"""The house with its orders and serving times as its ledger has them changed, day by day."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime

from board.house.calendar import local
from board.house.model import House
from board.house.orders import Order, OrderLine
from board.ledger.facts import OccasionFacts
from board.planning.dues import WHOLE, lines_of

Promised = Mapping[tuple[date, str, str], int]


def as_ordered(house: House, changed: tuple[OccasionFacts, ...], promised: Promised) -> House:
    """The house with orders taken, changed and struck, and services at the times they were put at."""
    by_key = {(one.day, one.service): one for one in changed}
    known = {order.id for order in house.orders}
    orders = [
        *(_as_changed(house, order, by_key, promised) for order in house.orders),
        *(_taken(one, promised) for one in changed if one.name is not None and one.service not in known),
    ]
    kept = tuple(order for order in orders if order is not None)
    times = {(one.day, one.service): one.at for one in changed if one.name is None and one.at is not None}
    if kept == house.orders and not times:
        return house
    services = {id: replace(service, due=_due(id, times)) for id, service in house.services.items()}
    return replace(house, orders=kept, services=services)


def _due(service: str, times: Mapping[tuple[date, str], datetime]) -> dict[date, datetime]:
    return {day: at for (day, id), at in times.items() if id == service}


def _as_changed(
    house: House, order: Order, changed: Mapping[tuple[date, str], OccasionFacts], promised: Promised
) -> Order | None:
    """An order of the house files as it is now; None where it is struck."""
    day = local(order.collect_at, house).date()
    now = changed.get((day, order.id))
    if now is not None and now.struck:
        return None
    edited = dict(_edited(day, order.id, promised))
    if not edited and (now is None or now.at is None):
        return order
    at = now.at if now is not None and now.at is not None else order.collect_at
    return replace(order, collect_at=at, lines=_lines(lines_of(order) | edited))


def _taken(one: OccasionFacts, promised: Promised) -> Order | None:
    """An order that only the ledger knows; None where it is struck."""
    if one.struck or one.name is None or one.at is None:
        return None
    return Order(one.service, one.name, one.at, _lines(dict(_edited(one.day, one.service, promised))))


def _edited(day: date, order: str, promised: Promised) -> Iterator[tuple[str, int]]:
    return ((item, n) for (on, id, item), n in promised.items() if (on, id) == (day, order))


def _lines(portions: Mapping[str, int]) -> tuple[OrderLine, ...]:
    """Lines of an order, whole pieces told from portions; what was taken off is none."""
    return tuple(
        OrderLine(pieces=n, cut=item.removeprefix(WHOLE))
        if item.startswith(WHOLE)
        else OrderLine(portions=n, item=item)
        for item, n in portions.items()
        if n > 0
    )
