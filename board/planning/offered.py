"""Which pits a part is offered: all, but of many that are alike only some, and other parts others.

What alike pits are left for a part makes no difference to it, only how many loads ask for each. In a ring of
alike pits each part is offered a stretch; stretches overlap, so that a crowded one gives way to the next.
Looking at so many pits and no more, a plan's time grows with its loads and not with loads times pits.
"""

from collections import Counter
from collections.abc import Hashable
from dataclasses import replace
from zlib import crc32

from board.planning.problem import Frame

# Of so many alike pits a part is offered each; of more, a stretch of so many.
ALIKE_MOST, STRETCH = 16, 8


def pits_offered(frame: Frame, part_id: str) -> tuple[str, ...]:
    """The pits a part may go to, in the house's order."""
    kinds: list[list[str]] = frame.once("kinds", lambda: _kinds(frame))
    turns = tuple(_turn(len(kind), part_id) for kind in kinds)
    return frame.once(("offered", turns), lambda: _in_order(frame, kinds, turns))


def offers_every_pit(frame: Frame) -> bool:
    """Whether a part may go to every pit that takes it, as where no more than a few are alike."""
    return max(Counter(first_alike(frame).values()).values(), default=0) <= ALIKE_MOST


def _turn(alike: int, part_id: str) -> int:
    """Which stretch of so many alike pits a part is offered; 0 where that is all of them."""
    stretches = -(-alike // (STRETCH // 2))
    return 0 if alike <= ALIKE_MOST else crc32(part_id.encode()) % stretches


def _in_order(frame: Frame, kinds: list[list[str]], turns: tuple[int, ...]) -> tuple[str, ...]:
    offered = {pit for kind, turn in zip(kinds, turns, strict=True) for pit in _stretch(kind, turn)}
    return tuple(pit for pit in frame.pits if pit in offered)


def _stretch(kind: list[str], turn: int) -> list[str]:
    if len(kind) <= ALIKE_MOST:
        return kind
    first = turn * (STRETCH // 2)
    return [kind[(first + i) % len(kind)] for i in range(STRETCH)]


def _kinds(frame: Frame) -> list[list[str]]:
    found: dict[str, list[str]] = {}
    for pit, first in first_alike(frame).items():
        found.setdefault(first, []).append(pit)
    return list(found.values())


def first_alike(frame: Frame) -> dict[str, str]:
    """For each pit the first that differs from it in name alone, its cooks and its fires included."""
    found: dict[str, str] = frame.once("alike", lambda: _first_alike(frame))
    return found


def _first_alike(frame: Frame) -> dict[str, str]:
    cooks: dict[str, set[object]] = {pit: set() for pit in frame.pits}
    for asked, time in frame.times.items():
        cooks[asked.pit].add((asked.cut, asked.air_c, asked.pieces, asked.then, time))
    first: dict[Hashable, str] = {}
    return {
        pit: first.setdefault(
            (
                replace(room.pit, id="", name=""),
                room.warm,
                room.shut.tobytes(),
                frame.offers[pit],
                frame.taken.runs[pit],
                frozenset(cooks[pit]),
            ),
            pit,
        )
        for pit, room in frame.pits.items()
    }
