"""Orders to place parts in: which goes first decides what is left for the others."""

from collections.abc import Callable, Iterable

from board.planning.grid import SLOT_MINUTES
from board.planning.problem import Part

Order = Callable[[Iterable[Part]], list[Part]]

# Beside its cook a part takes about so much more of its pit's time: loading, and the wait for the next.
_BESIDE_MINUTES = 40


def worth_first(parts: Iterable[Part]) -> list[Part]:
    """What is worth most for the room and time it takes, first: where room is short, little is left out."""
    beside = _BESIDE_MINUTES / SLOT_MINUTES
    return sorted(parts, key=lambda p: (-p.worth / (p.area_cm2 * (cook_slots(p) + beside)), p.id))


def longest_first(parts: Iterable[Part]) -> list[Part]:
    """The longest cooks first."""
    return sorted(parts, key=lambda p: (-cook_slots(p), p.ready_by, p.id))


def by_need(parts: Iterable[Part]) -> list[Part]:
    """The soonest needed first, by the hour; the largest first within it."""
    return sorted(parts, key=lambda p: (p.ready_by // (60 // SLOT_MINUTES), -p.area_cm2, p.id))


def latest_on_first(parts: Iterable[Part]) -> list[Part]:
    """What can wait longest before it goes on, first; what must go on early then lies before it."""
    return sorted(parts, key=lambda p: (cook_slots(p) - p.ready_by, -p.area_cm2, p.id))


def earliest_on_first(parts: Iterable[Part]) -> list[Part]:
    """What must go on earliest, first."""
    return sorted(parts, key=lambda p: (p.ready_by - cook_slots(p), -p.area_cm2, p.id))


def largest_first(parts: Iterable[Part]) -> list[Part]:
    """What takes most room, first."""
    return sorted(parts, key=lambda p: (-p.area_cm2, p.id))


def cook_slots(part: Part) -> int:
    """The usual length of its quickest cook; 0 where it has none."""
    return min((mode.d50 for mode in part.modes), default=0)


# The first is best on its own where a house has more loads than room.
ORDERS: tuple[Order, ...] = (worth_first, by_need, longest_first, latest_on_first)
# Placing few parts again is quick, so that poorer orders are worth a try too.
MORE_ORDERS: tuple[Order, ...] = (*ORDERS, earliest_on_first, largest_first)
