"""Reading orders.csv and sales.csv."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path

from board.house.model import Cut, Item
from board.house.orders import Order, OrderLine
from board.house.past import Sale
from board.house.rows import Row, read_rows

ORDER_COLUMNS = ("order", "name", "collect", "item", "portions", "cut", "pieces", "note")
SALE_COLUMNS = ("day", "service", "item", "sold", "left", "sold_out_at")


def read_orders(
    path: Path, zone: str, items: Mapping[str, Item], cuts: Mapping[str, Cut]
) -> tuple[Order, ...]:
    """The orders of a CSV file, one line for each thing ordered, in order of collection.

    Lines of one order share its id; its name, moment and note are told on the first of them.
    """
    orders: dict[str, Order] = {}
    for row in read_rows(path, ORDER_COLUMNS, needed=("order", "name", "collect")):
        id = row.text("order")
        line = _line(row, items, cuts)
        known = orders.get(id)
        if known is None:
            order = Order(id, row.text("name"), row.moment("collect", zone), (line,), row.text("note", ""))
        else:
            order = _same_order(row, known, zone, line)
        orders[id] = order
    return tuple(sorted(orders.values(), key=lambda o: (o.collect_at, o.id)))


def read_sales(path: Path) -> tuple[Sale, ...]:
    """Past sales, one line for each item at each service, in order of date."""
    seen: dict[tuple[date, str, str], int] = {}
    sales: list[Sale] = []
    for row in read_rows(path, SALE_COLUMNS, needed=("day", "service", "item", "sold")):
        sale = Sale(
            row.date("day"),
            row.text("service"),
            row.text("item"),
            row.whole("sold"),
            row.whole("left", 0),
            row.time_of_day("sold_out_at"),
        )
        key = (sale.day, sale.service, sale.item)
        if key in seen:
            raise row.refuse("item", f"each item once a service: line {seen[key]} tells of it already")
        seen[key] = row.line
        sales.append(sale)
    return tuple(sorted(sales, key=lambda s: s.day))


def _line(row: Row, items: Mapping[str, Item], cuts: Mapping[str, Cut]) -> OrderLine:
    if row.has("item") == row.has("cut"):
        raise row.refuse("item", "either an item with portions or a cut with pieces")
    if row.has("item"):
        return OrderLine(portions=row.some("portions"), item=row.one_of("item", items))
    return OrderLine(pieces=row.some("pieces"), cut=row.one_of("cut", cuts))


def _same_order(row: Row, known: Order, zone: str, line: OrderLine) -> Order:
    if row.text("name", known.name) != known.name:
        raise row.refuse("name", f"{known.name}, whose order {known.id} is")
    if row.has("collect") and row.moment("collect", zone) != known.collect_at:
        raise row.refuse("collect", f"one moment for order {known.id}")
    return Order(known.id, known.name, known.collect_at, (*known.lines, line), known.note)
