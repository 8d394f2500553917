"""Who is there when, on the planner's grid."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from board.house.calendar import on_break, on_shift
from board.house.model import House, Person
from board.planning.grid import Grid

Flags = NDArray[np.bool_]
Counts = NDArray[np.int64]


@dataclass(frozen=True)
class Crew:
    """The people of a house on a grid: `present[p, t]` tells that person p is on shift in all of slot t.

    Whoever is on a break is not. `busy` marks the slots in which they already have something else to do,
    `at_pits` those of them at a pit: as a plan counts only that work against what a crew can watch.
    """

    people: tuple[Person, ...]
    present: Flags
    busy: Flags
    at_pits: Flags | None = None
    # every part of a day asks the same of the same people
    _limits: dict[frozenset[str], tuple[tuple[frozenset[str], Counts], ...]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    _whole: dict[tuple[str, str, int], Flags] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    @cached_property
    def count(self) -> Counts:
        """People on shift in each slot."""
        return np.asarray(self.present.sum(axis=0), dtype=np.int64)

    @cached_property
    def free(self) -> Flags:
        """Who is on shift with nothing else to do, person by slot."""
        return self.present & ~self.busy

    @property
    def hands(self) -> Counts:
        """People on shift with nothing else to do in each slot."""
        return np.asarray(self.free.sum(axis=0), dtype=np.int64)

    def limits(self, kinds: Iterable[str]) -> tuple[tuple[frozenset[str], Counts], ...]:
        """For each set of kinds of work, how many free people do any of them, slot by slot.

        Work on shift can be given out one person a task where no set asks for more (Hall 1935, J. London
        Math. Soc. s1-10:26, from memory); a set that a larger one with the same people implies is left out.
        """
        asked = frozenset(kinds)
        if asked not in self._limits:
            self._limits[asked] = tuple(self._limits_of(sorted(asked)))
        return self._limits[asked]

    def _limits_of(self, each: Sequence[str]) -> Iterator[tuple[frozenset[str], Counts]]:
        sets = [frozenset(c) for n in range(1, 1 + len(each)) for c in combinations(each, n)]
        rows = {kinds: frozenset(row for what in kinds for row in self.able(what)) for kinds in sets}
        kept = [a for a in sets if not any(a < b and rows[a] == rows[b] for b in sets)]
        return ((a, np.asarray(self.free[sorted(rows[a])].sum(axis=0), dtype=np.int64)) for a in kept)

    def attention(self, task_percent: int) -> Counts:
        """Per cent of a person's attention left in each slot: at a pit they keep what a task leaves them."""
        if self.at_pits is None:
            return 100 * self.count
        working = np.asarray((self.present & self.at_pits).sum(axis=0), dtype=np.int64)
        return 100 * self.count - task_percent * working

    def able(self, what: str) -> list[int]:
        """Rows of the people who do this kind of work."""
        return [i for i, person in enumerate(self.people) if not person.can or what in person.can]

    def someone(self, what: str, slots: int) -> Flags:
        """Slots at which some one person could begin this work and stay until it is done."""
        return self._any_throughout("free", what, slots)

    def on_hand(self, what: str, slots: int) -> Flags:
        """Slots from which someone who does this work is there so long, whatever they have in hand then."""
        return self._any_throughout("there", what, slots)

    def _any_throughout(self, who: str, what: str, slots: int) -> Flags:
        if (who, what, slots) not in self._whole:
            flags = self.free if who == "free" else self.present
            found = np.zeros(flags.shape[1], dtype=np.bool_)
            for row in self.able(what):
                found |= throughout(flags[row], slots)
            self._whole[who, what, slots] = found
        return self._whole[who, what, slots].copy()


def crew_on(house: House, grid: Grid, busy: Flags | None = None, at_pits: Flags | None = None) -> Crew:
    """The crew of a house over a grid, from its shifts and breaks, less the time already given away."""
    people = tuple(house.people.values())
    rows: Mapping[str, int] = {person.id: i for i, person in enumerate(people)}
    present = np.zeros((len(people), grid.slots), dtype=np.bool_)
    for person, start, end, _crew in on_shift(house, grid.moment(0), grid.moment(grid.slots)):
        present[rows[person], max(0, grid.ceil(start)) : max(0, grid.floor(end))] = True
    for person, start, end in on_break(house, grid.moment(0), grid.moment(grid.slots)):
        present[rows[person], max(0, grid.floor(start)) : max(0, grid.ceil(end))] = False
    return Crew(people, present, np.zeros_like(present) if busy is None else busy, at_pits)


def throughout(flags: Flags, slots: int) -> Flags:
    """Slots t for which the flag holds in all of [t, t + slots); past the grid's end it does not."""
    if slots <= 0:
        return np.ones_like(flags)
    held = np.concatenate(([0], np.cumsum(flags)))
    result = np.zeros_like(flags)
    last = len(flags) - slots
    if last >= 0:
        result[: last + 1] = held[slots:] - held[:-slots] == slots
    return result


def somewhere_before(flags: Flags, shortest: int, longest: int) -> Flags:
    """Slots u for which the flag holds at some t with shortest ≤ u − t ≤ longest."""
    held = np.concatenate(([0], np.cumsum(flags)))
    u = np.arange(len(flags))
    first = np.clip(u - longest, 0, len(flags))
    last = np.clip(u - shortest + 1, 0, len(flags))
    found: Flags = (held[last] - held[np.minimum(first, last)]) > 0
    return found
