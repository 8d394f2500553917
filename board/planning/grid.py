"""The planner's grid of five-minute slots in elapsed time."""

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from board.house.spans import minutes_between

SLOT_MINUTES = 5


def slots_up(minutes: float) -> int:
    """Whole slots that cover so many minutes."""
    return math.ceil(minutes / SLOT_MINUTES - 1e-9)


def slots_down(minutes: float) -> int:
    """Whole slots that fit into so many minutes."""
    return math.floor(minutes / SLOT_MINUTES + 1e-9)


def step_slots(minutes: float) -> int:
    """Slots of somebody's time that a step takes: at least one, however short it is."""
    return max(1, slots_up(minutes))


def stretches(values: NDArray[np.generic]) -> list[tuple[int, int, int]]:
    """Runs of equal values as (begin, size, value)."""
    edges = np.flatnonzero(np.diff(values.astype(np.int64))) + 1
    bounds = [0, *(int(e) for e in edges), len(values)]
    return [(b, e - b, int(values[b])) for b, e in pairwise(bounds) if e > b]


@dataclass(frozen=True, slots=True)
class Grid:
    """Slots counted from an aware UTC start, so a night with a clock change keeps its true length."""

    start: datetime
    slots: int

    def moment(self, slot: int) -> datetime:
        """The moment a slot begins."""
        return self.start + timedelta(minutes=SLOT_MINUTES * slot)

    def minutes(self, moment: datetime) -> float:
        """Elapsed minutes from the grid's start to a moment; negative before it."""
        return minutes_between(self.start, moment)

    def floor(self, moment: datetime) -> int:
        """The slot that holds a moment."""
        return slots_down(self.minutes(moment))

    def ceil(self, moment: datetime) -> int:
        """The first slot that begins no earlier than a moment."""
        return slots_up(self.minutes(moment))
