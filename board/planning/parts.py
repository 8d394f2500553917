"""Cut a need into parts that pits can take: whole pieces, none left over."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import pairwise

from board.house.model import Pit
from board.planning.demand import Need
from board.planning.dues import Due
from board.planning.modes import takes
from board.planning.plan import PlannedBatch

# A need no pit of the house could ever meet is not cut finer than this: what is over is told as short.
_SHARES_MOST = 24


@dataclass(frozen=True, slots=True)
class Share:
    """Some pieces of a need, the portions they usually give and the promised ones they must cover.

    `serves` is what they are due for, with their own portions of it, the first one setting the time.
    `timed_as` is the number of pieces its cook is timed for: its own, or more. `made` are batches
    that stand and were meant for it too.
    """

    need: Need
    number: int
    pieces: int
    portions: int
    due: int
    serves: tuple[Due, ...]
    timed_as: int
    made: tuple[PlannedBatch, ...] = ()

    @property
    def first(self) -> Due:
        """What it is due for first."""
        return self.serves[0]

    @property
    def last(self) -> Due:
        """What waits for it longest."""
        return self.serves[-1]

    @property
    def waves(self) -> tuple[datetime, ...]:
        """The moments it is due at; none where that is one, at which its services open."""
        moments = tuple(dict.fromkeys(due.at for due in self.serves))
        return () if moments == (self.first.occasion.at,) else moments


def shares_of(need: Need, pits: list[Pit]) -> tuple[Share, ...]:
    """A need as parts of at most half the largest pit that takes the cut, cut where the rest may come later.

    Half, so that two cuts can share a fire, and no more than its largest zone; a need that no pit takes
    stays whole.
    """
    rooms = [_room_m2(pit) for pit in pits if takes(pit, need.cut)]
    most = max(1, math.floor(max(rooms) / need.cut.area_m2 + 1e-9)) if rooms else need.pieces
    return cut_into(need, [n for pieces in steps_of(need) for n in _evenly(pieces, most)])


def _room_m2(pit: Pit) -> float:
    return min(pit.area_m2 / 2, max((zone.area_m2 for zone in pit.zones), default=pit.area_m2))


def steps_of(need: Need) -> list[int]:
    """Pieces wanted by each moment before which the rest need not come."""
    return [end - begin for begin, end in pairwise((0, *need.cuts, need.pieces))]


def _evenly(pieces: int, most: int) -> list[int]:
    """Pieces in lots of `most` at most, as even as can be."""
    count = min(math.ceil(pieces / most), _SHARES_MOST)
    return [pieces * (i + 1) // count - pieces * i // count for i in range(count)]


def cut_into(need: Need, pieces: list[int]) -> tuple[Share, ...]:
    """A need as parts of the given numbers of pieces; portions, given and due, add up to the whole's."""
    shares: list[Share] = []
    done = 0
    for number, n in enumerate(pieces, start=1):
        before, done = done, done + n
        given = _portions(need, done) - _portions(need, before)
        first, last = (need.portions * k // need.pieces for k in (before, done))
        shares.append(Share(need, number, n, given, last - first, _slice(need.serves, first, last), n))
    return tuple(shares)


def _portions(need: Need, pieces: int) -> int:
    return math.floor(pieces * need.portions_a_piece + 1e-9)


def split(share: Share, pieces: int) -> tuple[Share, Share]:
    """A share as its first pieces and the rest: portions in proportion, the promised ones covered first."""
    portions = math.floor(share.portions * pieces / share.pieces + 1e-9)
    due = min(portions, share.due)
    first, rest = _slice(share.serves, 0, due), _slice(share.serves, due, share.due)
    some = replace(share, pieces=pieces, portions=portions, due=due, serves=first)
    left = replace(
        share,
        pieces=share.pieces - pieces,
        portions=share.portions - portions,
        due=share.due - due,
        serves=rest,
    )
    return some, left


def _slice(serves: Sequence[Due], first: int, last: int) -> tuple[Due, ...]:
    """What is due of the portions between the first and the last, counted through what is due in turn.

    Pieces that only add surety are due for nothing, with what comes next.
    """
    found, begin = [], 0
    for due in serves:
        end = begin + due.portions
        portions = min(last, end) - max(first, begin)
        if portions > 0:
            found.append(replace(due, portions=portions))
        elif first == last and begin <= first < end:
            return (replace(due, portions=0),)
        begin = end
    return tuple(found) or (replace(serves[-1], portions=0),)
