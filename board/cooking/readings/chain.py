"""The readings that one core can have given: the longest row of them in which each can follow the last."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.readings.limits import Limits
from board.cooking.readings.numbers import number
from board.cooking.tables import room_c

Floats = NDArray[np.float64]
Marks = NDArray[np.bool_]
Places = NDArray[np.intp]

LOOK_BACK = 120  # a wild stretch longer than so many readings starts a row of its own


@dataclass(frozen=True, slots=True)
class Row:
    """Readings in order of time, with the pit's air at each and the bounds that rule them."""

    minutes: Floats
    core_c: Floats
    air_c: Floats
    limits: Limits

    @classmethod
    def of(cls, minutes: Floats, core_c: Floats, limits: Limits) -> "Row":
        """Readings in order of time under the bounds of their cook."""
        return cls(minutes, core_c, limits.air_c(minutes), limits)

    def follow(self, before: Places, after: Places) -> Marks:
        """Whether the core can have given some readings and then others, by their places."""
        apart = self.minutes[after] - self.minutes[before]
        change = self.core_c[after] - self.core_c[before]
        jitter = number("probe", "jitter_k")
        cold = np.minimum(self.air_c[before], self.air_c[after]) < self.core_c[before]
        fall = np.where(cold, number("pace", "cold_fall_k_h"), number("pace", "fall_k_h")) / 60.0
        rises = change <= jitter + self.limits.rise_k_min * apart
        return np.asarray((apart > 0) & rises & (change >= -jitter - fall * apart))

    def likely(self) -> Marks:
        """Which lie within the members' paths, stretched."""
        within = self.core_c >= self.limits.lowest(self.minutes)
        return np.asarray(within & (self.core_c <= self.limits.highest(self.minutes)))

    def of_the_room(self) -> Marks:
        """Which may be of the room's air: as warm as it, while the middle member is warmer."""
        room, near = room_c(), number("meaning", "room_k")
        past = self.limits.usual(self.minutes) > room + near
        return np.asarray(past & (abs(self.core_c - room) <= near))

    def weight(self) -> Floats:
        """What each counts for."""
        stretched = np.where(self.likely(), number("trust", "stretched"), number("trust", "beyond"))
        usual = np.where(self.limits.within(self.minutes, self.core_c), 1.0, stretched)
        return np.asarray(usual * np.where(self.of_the_room(), number("trust", "room"), 1.0))


def chain(row: Row) -> Marks:
    """Which readings to keep: the longest row; but a core is the coldest place, so lower ones win."""
    places = np.arange(len(row.minutes))
    if row.follow(places[:-1], places[1:]).all():
        return np.ones(len(places), dtype=bool)
    kept = _longest(row, np.ones(len(places), dtype=bool))
    for first, last in _lower_runs(row, kept):
        again = _longest(row, (places >= first) | row.follow(places, np.full_like(places, first)))
        if again[first : last + 1].all():
            kept = again
    return kept


def _longest(row: Row, allowed: Marks) -> Marks:
    """The heaviest row among those allowed; of two as heavy, the one that ends colder."""
    count = len(row.minutes)
    weight = np.where(allowed, row.weight() - 1e-7 * row.core_c, -np.inf)
    best = np.concatenate([np.full(LOOK_BACK, -np.inf), weight])
    barred, came_from = _barred(row), np.full(count, -1)
    for j in range(1, count):
        reach = best[j : j + LOOK_BACK] + barred[j]
        i = int(reach.argmax())
        if reach[i] > 0.0:
            best[j + LOOK_BACK] += reach[i]
            came_from[j] = j - LOOK_BACK + i
    kept, at = np.zeros(count, dtype=bool), int(best[LOOK_BACK:].argmax())
    while at >= 0:
        kept[at] = True
        at = int(came_from[at])
    return kept


def _barred(row: Row) -> Floats:
    """For each reading and each of so many before it, oldest first: 0 where it can follow, else −∞."""
    after = np.arange(len(row.minutes))[:, None]
    before = after - LOOK_BACK + np.arange(LOOK_BACK)[None, :]
    follows = row.follow(np.maximum(before, 0), np.broadcast_to(after, before.shape))
    return np.where(follows & (before >= 0), 0.0, -np.inf)


def _lower_runs(row: Row, kept: Marks) -> list[tuple[int, int]]:
    """Runs left out though likely, that agree with each other and lie below the last kept before them."""
    doubted = ~kept & row.likely() & ~row.of_the_room()
    places = np.arange(len(kept) - 1)
    joined = doubted[:-1] & doubted[1:] & row.follow(places, places + 1)
    starts = np.flatnonzero(doubted & ~np.append(False, joined))
    ends = np.flatnonzero(doubted & ~np.append(joined, False))
    return [
        (first, last)
        for first, last in zip(starts.tolist(), ends.tolist(), strict=True)
        if last - first + 1 >= number("trust", "stays") and _is_below(row, kept, first)
    ]


def _is_below(row: Row, kept: Marks, first: int) -> bool:
    """Whether a reading lies below the last kept before it."""
    before = np.flatnonzero(kept[:first])
    return bool(before.size) and bool(row.core_c[first] < row.core_c[before[-1]])
