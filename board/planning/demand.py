"""From promises to pieces: what a day's services and orders ask of the pits."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from statistics import NormalDist

from board.errors import PlanError
from board.house.calendar import local, services_on
from board.house.model import Cut, House, Item
from board.house.orders import Order
from board.house.spans import Spread
from board.planning.plan import Occasion

Promises = Mapping[tuple[str, str], int]

# The ends of a practice range are read as its 10th and 90th percentile.
Z_90 = NormalDist().inv_cdf(0.9)


# Orders of one item collected within so long of the first are cooked as one, where the cut can wait.
_TOGETHER = timedelta(hours=2)


@dataclass(frozen=True, slots=True)
class Due:
    """Portions of an item due at one moment: all an occasion asks for as it opens, or one of its waves."""

    occasion: Occasion
    at: datetime
    portions: int


@dataclass(frozen=True, slots=True)
class Need:
    """Portions of one item that are cooked as one, and the whole raw pieces that give them.

    `serves` holds what is due of it, the first needed first. `portions_a_piece` is the usual number a
    piece gives; `portions_likely` the 10–90 % range from all its pieces together.
    """

    serves: tuple[Due, ...]
    item: str
    cut: Cut
    pieces: int
    portions_a_piece: float
    portions_likely: tuple[int, int]
    chance: float

    @property
    def occasion(self) -> Occasion:
        """The first occasion that needs it, which sets the time."""
        return self.serves[0].occasion

    @property
    def portions(self) -> int:
        """All portions promised of it."""
        return sum(due.portions for due in self.serves)


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
    lines: dict[str, int] = {}
    for line in order.lines:
        key = line.item if line.item else whole(line.cut or "")
        lines[key] = lines.get(key, 0) + (line.portions or line.pieces)
    return Occasion(order.id, order.name, order.collect_at, order.collect_at, lines, is_order=True)


def whole(cut_id: str) -> str:
    """The item name of a cut sold as a whole piece."""
    return f"whole-{cut_id}"


def needs_of(house: House, occasions: tuple[Occasion, ...], enough_chance: float) -> tuple[Need, ...]:
    """What the day needs of each item, as whole pieces; orders collected close together are one need.

    Raises:
        PlanError: for an item the house does not know.
    """
    return tuple(_need(house, serves, item, enough_chance) for item, serves in _groups(house, occasions))


def _groups(house: House, occasions: tuple[Occasion, ...]) -> list[tuple[str, list[Due]]]:
    groups: list[tuple[str, list[Due]]] = []
    open_orders: dict[str, list[Due]] = {}
    for occasion in occasions:
        for item, portions in occasion.promises.items():
            known = open_orders.get(item) if occasion.is_order else None
            due = Due(occasion, occasion.at, portions)
            if known and occasion.at - known[0].at <= _wait(house, item):
                known.append(due)
                continue
            groups.append((item, [due]))
            if occasion.is_order:
                open_orders[item] = groups[-1][1]
    return groups


def _wait(house: House, item_id: str) -> timedelta:
    """How long after the first order another may be collected from the same load."""
    cut = cut_of(house, item_id)
    return min(_TOGETHER, timedelta(minutes=cut.hold_longest_minutes / 2)) if cut else timedelta(0)


def cut_of(house: House, item_id: str) -> Cut | None:
    """The cut an item is made from, or that is sold whole under this name."""
    item = house.items.get(item_id)
    return house.cuts.get(item.cut if item else item_id.removeprefix("whole-"))


def _need(house: House, serves: list[Due], item_id: str, enough: float) -> Need:
    first, portions = serves[0].occasion, sum(due.portions for due in serves)
    service = house.services.get(first.id)
    chance = (service and service.chance) or house.chance
    item = house.items.get(item_id)
    cut = cut_of(house, item_id)
    if cut is None:
        raise PlanError(f"{first.name} promises {item_id!r}: not an item of this house")
    if item is None or item.portions_a_piece:
        each = item.portions_a_piece or 1.0 if item else 1.0
        pieces = math.ceil(portions / each - 1e-9)
        likely = (math.floor(pieces * each + 1e-9),) * 2
    else:
        each = cut.mass_kg.usual * cut.yields.raw_to_served / _portion_kg(item)
        pieces = pieces_for(portions, each, cut, enough)
        likely = _likely(pieces, each, cut)
    return Need(tuple(serves), item_id, cut, pieces, each, likely, chance)


def _portion_kg(item: Item) -> float:
    if not item.portion_kg or item.portion_kg <= 0:
        raise PlanError(f"item {item.id!r} has no portion: give a served mass, such as portion = '150 g'")
    return item.portion_kg


def pieces_for(portions: int, portions_a_piece: float, cut: Cut, enough_chance: float) -> int:
    """The fewest whole pieces that give the portions with the wanted chance.

    The pieces of one delivery share their yields; their weights differ piece by piece.
    """
    z = NormalDist().inv_cdf(enough_chance)
    pieces = max(1, math.ceil(portions / portions_a_piece - 1e-9)) if portions > 0 else 0
    while pieces and pieces * portions_a_piece * (1 - z * _relative_sd(cut, pieces)) < portions:
        pieces += 1
    return pieces


def _likely(pieces: int, portions_a_piece: float, cut: Cut) -> tuple[int, int]:
    middle, share = pieces * portions_a_piece, Z_90 * _relative_sd(cut, pieces)
    return math.floor(middle * (1 - share)), math.floor(middle * (1 + share))


def _relative_sd(cut: Cut, pieces: int) -> float:
    y = cut.yields
    shared = sum(_spread_sd(s) ** 2 for s in (y.raw_to_trimmed, y.trimmed_to_cooked, y.cooked_to_served))
    return math.sqrt(shared + _spread_sd(cut.mass_kg) ** 2 / max(pieces, 1))


def _spread_sd(spread: Spread) -> float:
    return (spread.high - spread.low) / (2 * Z_90 * spread.usual)
