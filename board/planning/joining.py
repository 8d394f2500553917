"""Other ways to gather what is due of an item: one load for several waves, or pieces carried to the next."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import islice, zip_longest

from board.house.model import Cut, House
from board.planning.demand import Need, need_for
from board.planning.grid import SLOT_MINUTES
from board.planning.parts import cut_into, steps_of

# Counting in slots may take one off a hold at either end.
_ROUNDING = timedelta(minutes=2 * SLOT_MINUTES)
# More moments than this are not tried as one load: by then the first guests have gone.
_MOMENTS_MOST = 4
# More ways than this are not tried: each is a small plan of its own.
GATHERINGS_MOST = 60


@dataclass(frozen=True)
class Gathering:
    """Needs of one item, and the needs that would serve the same portions instead."""

    of: tuple[Need, ...]
    instead: tuple[Need, ...]

    @property
    def back(self) -> "Gathering":
        """The way back."""
        return Gathering(self.instead, self.of)


def reach(cut: Cut) -> timedelta:
    """How long after its first portions a load's last may be due: the cut's longest hold, less rounding."""
    return timedelta(minutes=cut.hold_longest_minutes) - _ROUNDING


def gatherings(house: House, needs: Sequence[Need], enough_chance: float) -> tuple[Gathering, ...]:
    """Every other way worth trying to gather neighbouring needs of an item, each within its hold's reach.

    One load may serve several moments; or each moment has its load, and what the first has over, for want
    of smaller pieces and to be sure of enough, goes to the next, where that saves a piece. The items take
    turns, and no more ways are told than are tried.
    """
    items = dict.fromkeys(need.item for need in needs)
    each = [sorted((n for n in needs if n.item == item), key=lambda need: need.at) for item in items]
    rows = zip_longest(*(_of_item(house, own, enough_chance) for own in each))
    found = (way for row in rows for way in row if way is not None)
    return tuple(islice(found, GATHERINGS_MOST))


def _of_item(house: House, own: Sequence[Need], enough: float) -> Iterator[Gathering]:
    for begin in range(len(own)):
        for end in range(begin + 2, len(own) + 1):
            run = tuple(own[begin:end])
            if end - begin <= _MOMENTS_MOST:
                yield from _if_sound(run, _joined(house, run, enough, in_steps=False))
            carried = _joined(house, run, enough, in_steps=True)
            if carried.cuts and carried.pieces < sum(need.pieces for need in run):
                yield from _if_sound(run, carried)


def _joined(house: House, run: Sequence[Need], enough: float, *, in_steps: bool) -> Need:
    serves = [due for need in run for due in need.serves]
    return need_for(house, run[0].item, serves, enough, in_steps=in_steps)


def _if_sound(run: tuple[Need, ...], instead: Need) -> Iterator[Gathering]:
    if reaches(instead):
        yield Gathering(run, (instead,))


def reaches(need: Need) -> bool:
    """Whether the hold of each load of a need, cut as it may be, reaches the last it is due for."""
    shares = cut_into(need, steps_of(need))
    return all(share.last.at - share.first.at <= reach(need.cut) for share in shares)
