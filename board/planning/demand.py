"""From what is due to pieces: the needs of a day, each cooked as one."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import accumulate, pairwise
from statistics import NormalDist

from board.errors import PlanError
from board.house.model import Cut, House, Item
from board.house.spans import Spread, minutes_between
from board.planning.dues import WHOLE, Due, dues_on
from board.planning.plan import Occasion, PlannedLoad

# The ends of a practice range are read as its 10th and 90th percentile.
Z_90 = NormalDist().inv_cdf(0.9)

# Orders of one item collected within so long of the first are cooked as one, where the cut can wait.
_TOGETHER = timedelta(hours=2)


@dataclass(frozen=True, slots=True)
class Need:
    """Portions of one item that are cooked as one, and the whole raw pieces that give them.

    `serves` holds what is due of it, the first needed first. `portions_a_piece` is the usual number a
    piece gives; `portions_likely` the 10–90 % range from all its pieces together. `cuts` are the numbers
    of pieces after which the rest may come later, where it is not all wanted at first.
    """

    serves: tuple[Due, ...]
    item: str
    cut: Cut
    pieces: int
    portions_a_piece: float
    portions_likely: tuple[int, int]
    chance: float
    cuts: tuple[int, ...] = ()

    @property
    def occasion(self) -> Occasion:
        """The first occasion that needs it, which sets the time."""
        return self.serves[0].occasion

    @property
    def at(self) -> datetime:
        """The moment its first portions are due."""
        return self.serves[0].at

    @property
    def name(self) -> str:
        """A name no other need of the day has: its occasion, the minutes into it, and its item."""
        into = round(minutes_between(self.occasion.at, self.at))
        return f"{self.occasion.id}+{into}-{self.item}" if into else f"{self.occasion.id}-{self.item}"

    @property
    def portions(self) -> int:
        """All portions promised of it."""
        return sum(due.portions for due in self.serves)


def needs_of(
    house: House,
    occasions: Sequence[Occasion],
    enough_chance: float,
    begun: Iterable[PlannedLoad] = (),
) -> tuple[Need, ...]:
    """What the day needs of each item, as whole pieces: each wave by itself, orders close together as one.

    Args:
        begun: loads under way, whose portions are no longer needed.

    Raises:
        PlanError: for an item the house does not know.
    """
    needs = [
        need_for(house, item, group, enough_chance)
        for item, dues in dues_on(house, occasions, begun).items()
        for group in _usual_groups(house, item, dues)
    ]
    rank = {occasion.id: n for n, occasion in enumerate(occasions)}
    return tuple(sorted(needs, key=lambda need: (rank[need.occasion.id], need.at)))


def _usual_groups(house: House, item: str, dues: Sequence[Due]) -> list[list[Due]]:
    groups: list[list[Due]] = []
    orders: list[Due] | None = None
    for due in dues:
        if due.occasion.is_order and orders and due.at - orders[0].at <= _wait(house, item):
            orders.append(due)
            continue
        groups.append([due])
        if due.occasion.is_order:
            orders = groups[-1]
    return groups


def _wait(house: House, item_id: str) -> timedelta:
    """How long after the first order another may be collected from the same load."""
    cut = cut_of(house, item_id)
    return min(_TOGETHER, timedelta(minutes=cut.hold_longest_minutes / 2)) if cut else timedelta(0)


def cut_of(house: House, item_id: str) -> Cut | None:
    """The cut an item is made from, or that is sold whole under this name."""
    item = house.items.get(item_id)
    return house.cuts.get(item.cut if item else item_id.removeprefix(WHOLE))


def need_for(
    house: House, item_id: str, serves: Sequence[Due], enough_chance: float, *, in_steps: bool = False
) -> Need:
    """What is due at these moments, the first due first, as one need.

    Args:
        in_steps: only what is due first must be ready first: the rest may come as it is due.
    """
    cut = cut_of(house, item_id)
    if cut is None:
        raise PlanError(f"{serves[0].occasion.name} promises {item_id!r}: not an item of this house")
    item = house.items.get(item_id)
    each = _portions_a_piece(item, cut)
    by_count = item is None or item.portions_a_piece is not None
    so_far = [_pieces(n, each, None if by_count else cut, enough_chance) for n in _sums(serves)]
    pieces = so_far[-1]
    return Need(
        serves=tuple(serves),
        item=item_id,
        cut=cut,
        pieces=pieces,
        portions_a_piece=each,
        portions_likely=(math.floor(pieces * each + 1e-9),) * 2 if by_count else _likely(pieces, each, cut),
        chance=max(_chance(house, due.occasion) for due in serves),
        cuts=_cuts(serves, so_far) if in_steps else (),
    )


def _sums(serves: Sequence[Due]) -> list[int]:
    """Portions due up to each moment."""
    return list(accumulate(due.portions for due in serves))


def _pieces(portions: int, each: float, cut: Cut | None, enough: float) -> int:
    """Whole pieces for so many portions; a cut whose portions are counted by weight gets some to spare."""
    return math.ceil(portions / each - 1e-9) if cut is None else pieces_for(portions, each, cut, enough)


def _cuts(serves: Sequence[Due], so_far: Sequence[int]) -> tuple[int, ...]:
    """After how many pieces all that is due so far is covered, with its own to spare, moment by moment."""
    pieces, sums = so_far[-1], _sums(serves)
    covering = [-(-n * pieces // sums[-1]) for n in sums[:-1]]
    cuts = [max(a, b) for a, b in zip(covering, so_far[:-1], strict=True)]
    return tuple(b for a, b in pairwise([0, *cuts]) if a < b < pieces)


def _chance(house: House, occasion: Occasion) -> float:
    service = house.services.get(occasion.id)
    return (service and service.chance) or house.chance


def _portions_a_piece(item: Item | None, cut: Cut) -> float:
    if item is None:
        return 1.0
    if item.portions_a_piece:
        return item.portions_a_piece
    return cut.mass_kg.usual * cut.yields.raw_to_served / _portion_kg(item)


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
