"""Cut a need into parts that pits can take: whole pieces, none left over."""

import math
from dataclasses import dataclass, replace

from board.house.model import Pit
from board.planning.demand import Due, Need
from board.planning.modes import takes

# A need no pit of the house could ever meet is not cut finer than this: what is over is told as short.
_SHARES_MOST = 24


@dataclass(frozen=True, slots=True)
class Share:
    """Some pieces of a need, the portions they usually give and the promised ones they must cover.

    `serves` is what they are due for, the first one setting the time. `timed_as` is the number of
    pieces its cook is timed for: its own, or more.
    """

    need: Need
    number: int
    pieces: int
    portions: int
    due: int
    serves: tuple[Due, ...]
    timed_as: int

    @property
    def first(self) -> Due:
        """What it is due for first."""
        return self.serves[0]

    @property
    def last(self) -> Due:
        """What waits for it longest."""
        return self.serves[-1]


def shares_of(need: Need, pits: list[Pit]) -> tuple[Share, ...]:
    """A need as parts of at most half the largest pit that takes the cut, as even as can be.

    Half, so that two cuts can share a fire; a need that no pit takes stays whole.
    """
    rooms = [pit.area_m2 for pit in pits if takes(pit, need.cut)]
    most = max(1, math.floor(max(rooms) / 2 / need.cut.area_m2)) if rooms else need.pieces
    count = min(math.ceil(need.pieces / most), _SHARES_MOST)
    return cut_into(need, [need.pieces * (i + 1) // count - need.pieces * i // count for i in range(count)])


def cut_into(need: Need, pieces: list[int]) -> tuple[Share, ...]:
    """A need as parts of the given numbers of pieces; portions, given and due, add up to the whole's."""
    shares: list[Share] = []
    done = 0
    for number, n in enumerate(pieces, start=1):
        before, done = done, done + n
        given = _portions(need, done) - _portions(need, before)
        first, last = (need.portions * k // need.pieces for k in (before, done))
        shares.append(Share(need, number, n, given, last - first, _served(need, first, last), n))
    return tuple(shares)


def _portions(need: Need, pieces: int) -> int:
    return math.floor(pieces * need.portions_a_piece + 1e-9)


def split(share: Share, pieces: int) -> tuple[Share, Share]:
    """A share as its first pieces and the rest: portions in proportion, the promised ones covered first."""
    portions = math.floor(share.portions * pieces / share.pieces + 1e-9)
    due = min(portions, share.due)
    some = replace(share, pieces=pieces, portions=portions, due=due)
    left = replace(
        share,
        pieces=share.pieces - pieces,
        portions=share.portions - portions,
        due=share.due - due,
    )
    return some, left


def _served(need: Need, first: int, last: int) -> tuple[Due, ...]:
    """What is due of the portions between the first and the last, counted through the need."""
    found, begin = [], 0
    for due in need.serves:
        if first < begin + due.portions and begin < max(last, first + 1):
            found.append(due)
        begin += due.portions
    return tuple(found) or (need.serves[-1],)
