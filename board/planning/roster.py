"""Who does what: each step is given to one person, and nobody is asked to be in two places."""

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np

from board.planning.crew import Crew, Flags, throughout
from board.planning.run import Task

# Work that slips is put off by so many slots at most: an hour.
_WITHIN = 12


@dataclass
class Roster:
    """The crew's time as it is given away, person by person.

    `wanted` are the kind of work, slot and row of people who should do it again if they can; `dealt` the kind
    of work, its slots and the row thought of for it.
    """

    crew: Crew
    wanted: frozenset[tuple[str, int, int]] = frozenset()
    dealt: set[tuple[str, int, int, int]] = field(default_factory=set, init=False)
    busy: Flags = field(init=False)

    def __post_init__(self) -> None:
        self.busy = self.crew.busy.copy()

    def free(self, what: str, slots: int) -> Flags:
        """Slots at which someone could begin this work and do it to the end."""
        found = np.zeros(self.crew.present.shape[1], dtype=np.bool_)
        for row in self.crew.able(what):
            found |= throughout(self.crew.present[row] & ~self.busy[row], slots)
        return found

    def deal(self, tasks: Iterable[Task]) -> None:
        """Think through all work at fixed times in its order, so that none is left without hands.

        Given in order of time, each to whoever goes soonest, work that people can share out at all is shared
        out where all can do it; those who are wanted already stay wanted.
        """
        kept = self.busy.copy()
        for task in sorted(tasks, key=lambda task: (task.begin, task.end, task.what)):
            row = self._best(task.what, task.begin, max(task.end, task.begin + 1), soonest_gone=True)
            if row is not None:
                self.busy[row, task.begin : max(task.end, task.begin + 1)] = True
                self.dealt.add((task.what, task.begin, max(task.end, task.begin + 1), row))
        self.busy = kept

    def give(self, what: str, begin: int, slots: int) -> str | None:
        """Give a step at a fixed time to whoever is wanted, else the least widely able; None if nobody."""
        end = begin + max(1, slots)
        row = self._best(what, begin, end)
        if row is None:
            return None
        self.busy[row, begin:end] = True
        return self.crew.people[row].id

    def _best(self, what: str, begin: int, end: int, *, soonest_gone: bool = False) -> int | None:
        rows = [row for row in self.crew.able(what) if self.open(row, begin, end)]
        there = {row: self._there_until(row, end) if soonest_gone else 0 for row in rows}

        def worth(row: int) -> tuple[int, ...]:
            thought_of = (what, begin, end, row) in self.dealt
            again = (what, begin, row) in self.wanted
            return not thought_of, not again, self._width(row), there[row], *self._worth(row)

        return min(rows, key=worth, default=None)

    def _there_until(self, row: int, begin: int) -> int:
        """The slot at which someone who is there goes off shift or on a break."""
        gone = np.flatnonzero(~self.crew.present[row, begin:])
        return begin + int(gone[0]) if len(gone) else self.crew.present.shape[1]

    def latest(self, what: str, slots: int, allowed: Flags, last: int) -> int | None:
        """The latest allowed slot, no later than `last`, at which someone is free for this work."""
        open_ = (allowed & self.free(what, max(1, slots)))[: last + 1]
        found = np.flatnonzero(open_)
        return int(found[-1]) if len(found) else None

    def soonest(self, what: str, slots: int, first: int) -> int | None:
        """The first slot from `first` on, within the hour, at which someone is free for this work."""
        found = np.flatnonzero(self.free(what, max(1, slots))[first : first + _WITHIN])
        return first + int(found[0]) if len(found) else None

    def open(self, row: int, begin: int, end: int) -> bool:
        """Whether one person, by row, is there and free in all of these slots."""
        if begin < 0 or end > self.busy.shape[1]:
            return False
        return bool(self.crew.present[row, begin:end].all() and not self.busy[row, begin:end].any())

    def _worth(self, row: int) -> tuple[int, int]:
        return int(self.busy[row].sum()), row

    def _width(self, row: int) -> int:
        can = self.crew.people[row].can
        return len(can) if can else 1_000
