"""Which setting of each boot's clock is taken for right: those that go on in time, and stood the longest."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import NamedTuple

from board.ledger.clock_settings import APART, Stand, Stretch


class _Way(NamedTuple):
    """A choice of settings up to some stretch: how much speaks for it, when it ends, and what it chose."""

    weight: int
    ends_at: datetime
    chose: tuple[int, Stand] | None
    before: "_Way | None"


def trusted(stretches: Sequence[Stretch]) -> list[Stand | None]:
    """The setting of each stretch that is taken for right: the most that go on in time; None for none."""
    ways = [_Way(0, datetime.min, None, None)]  # by when they end; each weighs more than those before it
    for n, stretch in enumerate(stretches):
        found = [_going_on(ways, n, stand) for stand in _eligible(stretch)]
        for way in found:
            _keep(ways, way)
    chosen = dict(_chosen(ways[-1]))
    return [chosen.get(n) for n in range(len(stretches))]


def _eligible(stretch: Stretch) -> Sequence[Stand]:
    """The settings of a stretch that may be right: the one a person named, else all."""
    return stretch.stands if stretch.told is None else [stretch.told]


def _going_on(ways: Sequence[_Way], n: int, stand: Stand) -> _Way:
    """The heaviest way that ends before a setting's first entry, with that setting."""
    before = ways[max(0, bisect_right(ways, _bare(stand.first_at) + APART, key=_ends_at) - 1)]
    return _Way(before.weight + stand.weight, max(before.ends_at, _bare(stand.last_at)), (n, stand), before)


def _keep(ways: list[_Way], way: _Way) -> None:
    """Keep a way unless one that ends no later weighs as much; it takes the place of lighter later ones."""
    place = bisect_right(ways, way.ends_at, key=_ends_at)
    if place and ways[place - 1].weight >= way.weight:
        return
    beyond = place
    while beyond < len(ways) and ways[beyond].weight <= way.weight:
        beyond += 1
    ways[place:beyond] = [way]


def _ends_at(way: _Way) -> datetime:
    return way.ends_at


def _bare(at: datetime) -> datetime:
    return at.replace(tzinfo=None)


def _chosen(way: _Way | None) -> Iterator[tuple[int, Stand]]:
    while way is not None:
        if way.chose is not None:
            yield way.chose
        way = way.before
