"""From promises to what is due when: the serving times of a day, their waves, and what has begun for them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from board.house.calendar import at_time, local, services_on
from board.house.model import House, Item, Service
from board.house.orders import Order
from board.planning.plan import Occasion, PlannedLoad

Promises = Mapping[tuple[str, str], int]

WHOLE = "whole-"  # before the name of a cut: the item of a cut sold as a whole piece

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Due:
    """Portions of an item due at one moment: all an occasion asks for as it opens, or one of its waves."""

    occasion: Occasion
    at: datetime
    portions: int


def occasions_on(house: House, day: date, promises: Promises | None = None) -> tuple[Occasion, ...]:
    """The serving times of a local day, in order, with any promise changed since the house file.

    Args:
        promises: portions by (service id, item id) that replace the house's own; 0 takes one off.
    """
    changed = promises or {}
    services = [
        Occasion(s.id, s.name, s.at, s.until, _promised(s.id, s.promises, changed))
        for s in services_on(house, day)
    ]
    orders = [_order_occasion(o) for o in house.orders if local(o.collect_at, house).date() == day]
    return tuple(sorted(services + orders, key=lambda o: (o.at, o.id)))


def _promised(service: str, usual: Mapping[str, int], changed: Promises) -> dict[str, int]:
    merged = dict(usual) | {item: n for (s, item), n in changed.items() if s == service}
    return {item: n for item, n in merged.items() if n > 0}


def _order_occasion(order: Order) -> Occasion:
    at, lines = order.collect_at, lines_of(order)
    return Occasion(order.id, order.name, at, at, lines, is_order=True)


def lines_of(order: Order) -> dict[str, int]:
    """What an order asks for, by item; a cut sold whole under its own name."""
    lines: dict[str, int] = {}
    for line in order.lines:
        key = line.item if line.item else whole(line.cut or "")
        lines[key] = lines.get(key, 0) + (line.portions or line.pieces)
    return lines


def whole(cut_id: str) -> str:
    """The item name of a cut sold as a whole piece."""
    return f"{WHOLE}{cut_id}"


def dues_on(
    house: House, occasions: Sequence[Occasion], begun: Iterable[PlannedLoad] = ()
) -> dict[str, list[Due]]:
    """What is due of each item, the first due first, less what loads that have begun give.

    Args:
        begun: loads under way; each gives to the waves it was planned for first, and those go before others
            that wait for nothing later.
    """
    dues: dict[str, list[Due]] = {}
    for occasion in occasions:
        for item, portions in occasion.promises.items():
            dues.setdefault(item, []).extend(_in_waves(house, occasion, item, portions))
    for load in sorted(begun, key=_last_due):
        if load.item in dues:
            dues[load.item] = _less(dues[load.item], load)
    return {item: sorted(found, key=_moment) for item, found in dues.items() if found}


def _in_waves(house: House, occasion: Occasion, item: str, portions: int) -> list[Due]:
    """An item's portions at one occasion spread evenly over its waves, the earlier taking what is odd."""
    waves = _waves(house, occasion, item)
    share, odd = divmod(portions, len(waves))
    each = [Due(occasion, at, share + (n < odd)) for n, at in enumerate(waves)]
    return [due for due in each if due.portions > 0]


def _waves(house: House, occasion: Occasion, item_id: str) -> tuple[datetime, ...]:
    service, item = house.services.get(occasion.id), house.items.get(item_id)
    if occasion.is_order or service is None:
        return (occasion.at,)
    if item_id in service.fresh:
        return _named_waves(house, occasion, service, item_id)
    return _even_waves(occasion, item)


def _named_waves(house: House, occasion: Occasion, service: Service, item: str) -> tuple[datetime, ...]:
    """The moments of the times of day that a service names, never outside it on a night of a clock change."""
    opening = local(occasion.at, house)
    days = [opening.date() + _DAY * (at < service.when.at) for at in service.fresh[item]]
    found = [at_time(day, at, house.zone) for day, at in zip(days, service.fresh[item], strict=True)]
    return tuple(dict.fromkeys(min(max(at, occasion.at), occasion.until) for at in found))


def _even_waves(occasion: Occasion, item: Item | None) -> tuple[datetime, ...]:
    """A wave as it opens and one as each grows old, but none for less than half such a time."""
    if item is None or not item.fresh_minutes:
        return (occasion.at,)
    apart = timedelta(minutes=item.fresh_minutes)
    more = max(0, int((occasion.until - occasion.at - apart / 2) / apart + 1e-9))
    return tuple(occasion.at + n * apart for n in range(more + 1))


def _last_due(load: PlannedLoad) -> tuple[datetime, int]:
    """When the last of a load is due, and for how many occasions it is."""
    return max(load.waves, default=load.needed_at), len(load.services)


def _less(dues: Sequence[Due], load: PlannedLoad) -> list[Due]:
    """What is due without the portions a load gives: to its own waves first, then as they come."""
    left, rest = load.portions, []
    for due in sorted(dues, key=lambda due: (due.at not in load.waves, due.at)):
        given = min(left, due.portions) if due.occasion.id in load.services else 0
        left -= given
        rest.append(replace(due, portions=due.portions - given))
    return [due for due in rest if due.portions > 0]


def _moment(due: Due) -> tuple[datetime, str]:
    return due.at, due.occasion.id
