"""On which bench and in which hold each load waits, piece by piece."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from board.house.model import Hold, House
from board.planning.area import CM2_A_M2, cm2_within
from board.planning.problem import Assignment, Part, Problem, holding, resting
from board.planning.standing import Shared, Stay
from board.safety.limits import hot_hold_least_c

# A part's wait somewhere: its first slot, the slot after its last, and the part.
Wait = tuple[int, int, Part]
# Room left in each slot, in cm².
Room = NDArray[np.int64]


@dataclass(frozen=True)
class Shelf:
    """Where a load rests and where it is held; None where it does neither.

    `bench_short_cm2` and `hold_short_cm2` are the area of pieces that no one place has room for.
    """

    load_id: str
    bench: str | None
    hold: str | None
    bench_short_cm2: int = 0
    hold_short_cm2: int = 0


def benches_of(house: House) -> list[Hold]:
    """Where meat rests."""
    return [hold for hold in house.holds.values() if hold.setpoint_c is None]


def warm_holds_of(house: House) -> list[Hold]:
    """Where meat may be kept hot: the holds at the hot-holding limit or above."""
    least = hot_hold_least_c(place=house.jurisdiction)
    return [hold for hold in house.holds.values() if hold.setpoint_c is not None and hold.setpoint_c >= least]


def shelves_of(house: House, problem: Problem, plan: Assignment) -> dict[str, Shelf]:
    """The bench and hold of each placed part, by part id: one with room for it all, else several."""
    here = [(part, plan.placed[part.id]) for part in problem.parts if part.id in plan.placed]
    taken, slots = problem.frame.taken, problem.frame.grid.slots
    benches = _Places(benches_of(house), slots, _known(taken.bench, taken.bench_on))
    holds = _Places(warm_holds_of(house), slots, _known(taken.hold, taken.hold_on))
    rests = benches.given([(*resting(part, at), part) for part, at in here])
    waits = holds.given([(*holding(part, at), part) for part, at in here])
    return {part.id: _shelf(part.id, rests.get(part.id), waits.get(part.id)) for part, _ in here}


def _known(stays: Sequence[Stay], shared: Sequence[Shared]) -> list[tuple[Stay, Shared]]:
    """Each stay that takes room, with the places it is known to be shared over."""
    unknown: list[Shared] = [((), 1)] * (len(stays) - len(shared))
    both = zip(stays, [*shared, *unknown], strict=True)
    return [(stay, on) for stay, on in both if stay[1] > stay[0] and stay[2] > 0]


def shelved(problem: Problem, plan: Assignment) -> Problem:
    """The problem less the room that is there only in corners of several places, too small for a piece."""
    shelves = shelves_of(problem.frame.house, problem, plan).values()
    bench = sum(shelf.bench_short_cm2 for shelf in shelves)
    hold = sum(shelf.hold_short_cm2 for shelf in shelves)
    if not bench and not hold:
        return problem
    frame = problem.frame
    less = replace(frame, bench_cm2=max(0, frame.bench_cm2 - bench), hold_cm2=max(0, frame.hold_cm2 - hold))
    return replace(problem, frame=less)


@dataclass(frozen=True)
class _Given:
    """The places a part was given, and its pieces that found none, with their area in cm²."""

    places: tuple[str, ...]
    left: int
    left_cm2: int

    @property
    def words(self) -> str | None:
        return ", ".join(self.places) or None


_NOWHERE = _Given((), 0, 0)


def _shelf(part_id: str, rests: _Given | None, waits: _Given | None) -> Shelf:
    rested, held = rests or _NOWHERE, waits or _NOWHERE
    return Shelf(part_id, rested.words, held.words, rested.left_cm2, held.left_cm2)


class _Places:
    """Benches or holds, and the room left on each in every slot."""

    def __init__(self, places: Sequence[Hold], slots: int, standing: Sequence[tuple[Stay, Shared]]) -> None:
        self._left: dict[str, Room] = {
            place.id: np.full(slots, cm2_within(place.area_m2), np.int64) for place in places
        }
        somewhere = []
        for stay, (names, pieces) in standing:
            rooms = [self._left[name] for name in names if name in self._left]
            self._take(*stay, rooms, pieces)
            somewhere += [] if rooms else [stay]
        for stay in somewhere:
            self._take_anywhere(*stay)

    def given(self, waits: Sequence[Wait]) -> dict[str, _Given]:
        """Places for each wait, those that begin first given first, the largest of them first."""
        ordered = sorted(waits, key=lambda w: (w[0], -w[2].area_cm2, w[2].id))
        return {part.id: self._give(begin, end, part) for begin, end, part in ordered if end > begin}

    def _give(self, begin: int, end: int, part: Part) -> _Given:
        each, left, used = part.need.cut.area_m2 * CM2_A_M2, part.pieces, []
        fits = {place: int(room[begin:end].min() / each + 1e-6) for place, room in self._left.items()}
        # the tightest place that takes it all, or else the roomiest first
        whole = sorted((n, place) for place, n in fits.items() if n >= left)
        for n, place in whole[:1] or sorted(((n, p) for p, n in fits.items()), reverse=True):
            pieces = min(n, left)
            if pieces > 0:
                self._left[place][begin:end] -= round(pieces * each)
                left -= pieces
                used.append(place)
        return _Given(tuple(used), left, math.ceil(left * each))

    def _take(self, begin: int, end: int, area: int, rooms: Sequence[Room], pieces: int) -> None:
        """Room of a standing load where it is planned, piece by piece; what is over, in the last place."""
        each = area / pieces
        for i, room in enumerate(rooms):
            fit = int(max(0, room[begin:end].min()) / each + 1e-6)
            n = pieces if i == len(rooms) - 1 else min(pieces, fit)
            room[begin:end] -= round(n * each)
            pieces -= n

    def _take_anywhere(self, begin: int, end: int, area: int) -> None:
        """Room that a standing load has, wherever it is."""
        for room in self._left.values():
            share = max(0, min(area, int(room[begin:end].min())))
            room[begin:end] -= share
            area -= share
