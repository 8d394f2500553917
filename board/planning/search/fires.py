"""Ways for a pit to burn for one more load: a fire of its own, one burning longer, one chained after."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from board.planning.problem import Part, Phase, PitRoom, Placed, Problem, cooking, on_slot, run_points
from board.planning.run import Run

Slots = NDArray[np.int64]
Flags = NDArray[np.bool_]
Points = NDArray[np.float64]


@dataclass(frozen=True)
class Way:
    """How a pit's fires change for a load: `new`, `longer` for one of its runs, or `after` one of them."""

    how: str
    run: int = -1


@dataclass(frozen=True)
class Burning:
    """What a way asks for at each of several starts: whether it can be, what it adds, and what burns then.

    The fire burns newly through [first, until) and again through [again, last).
    """

    way: Way
    sound: Flags
    points: Points
    first: Slots
    until: Slots
    again: Slots
    last: Slots
    lights: Flags


@dataclass(frozen=True)
class Stay:
    """A load on a pit, counted from its start: its length, its setpoints, and when it turns to the second."""

    size: int
    setpoint_c: float
    turn: int | None = None
    then_c: float = 0.0


def stay_of(part: Part, at: Placed) -> Stay:
    """What a placed part asks of its pit, whatever its start."""
    begin, end = cooking(part, at)
    turn = at.mode.turn
    if turn is None:
        return Stay(end - begin, at.mode.setpoint_c)
    return Stay(end - begin, at.mode.setpoint_c, on_slot(part, at) + turn.after - begin, turn.setpoint_c)


def ways(runs: tuple[Run, ...]) -> Iterator[Way]:
    """All ways to burn for one more load beside these runs."""
    yield Way("new")
    for i in range(len(runs)):
        yield Way("longer", i)
        yield Way("after", i)


@dataclass(frozen=True)
class Fire:
    """A pit's fires as they are; `free` lets runs clash, to find what binds."""

    problem: Problem
    pit: str
    runs: tuple[Run, ...]
    free: bool = False

    @property
    def room(self) -> PitRoom:
        """The pit on the grid."""
        return self.problem.frame.pits[self.pit]

    @property
    def points(self) -> float:
        """What the fires cost as they are."""
        return sum(run_points(self.problem, self.pit, run) for run in self.runs)

    def burnt(self, way: Way, phases: tuple[Phase, ...]) -> tuple[Run, ...] | None:
        """The runs a way leads to for a load's phases; none where the pit cannot burn so."""
        begin, middle = phases[0].begin, phases[0].end
        held = self._held(way, begin, middle, phases[0].setpoint_c)
        if held is None:
            return None
        index, runs = held
        if len(phases) > 1:
            turned = _turned(runs, index, phases[1])
            if turned is None:
                return None
            runs = turned
        runs = tuple(sorted(runs, key=lambda run: (run.begin, run.end)))
        return runs if self._sound(runs) else None

    def _held(self, way: Way, begin: int, end: int, setpoint_c: float) -> tuple[int, tuple[Run, ...]] | None:
        """The runs with one that holds [begin, end) at the setpoint, and which it is."""
        room, runs = self.room, self.runs
        if way.how == "new":
            return len(runs), (*runs, Run(begin - room.warm, end, setpoint_c))
        run = runs[way.run]
        if way.how == "after":
            if run.end + room.change_over > begin or run.end < self.problem.frame.outset.earliest:
                return None
            return len(runs), (*runs, Run(run.end, end, setpoint_c, chained=True))
        heat = room.change_over if run.chained else room.warm
        first = run.begin if run.chained or run.known else min(run.begin, begin - heat)
        if run.setpoint_c != setpoint_c or first + heat > begin:
            return None
        longer = replace(run, begin=first, end=max(run.end, end))
        return way.run, (*runs[: way.run], longer, *runs[way.run + 1 :])

    def _sound(self, runs: tuple[Run, ...]) -> bool:
        shut = self.room.shut
        inside = all(run.begin >= 0 and not shut[run.begin : run.end].any() for run in runs)
        if self.free:
            return inside
        apart = all(b.begin == a.end if b.chained else b.begin > a.end for a, b in pairwise(runs))
        return inside and apart and not (runs and runs[0].chained and not runs[0].known)

    def burning(self, way: Way, stay: Stay, starts: Slots) -> Burning:
        """What a way asks for at each of these starts."""
        if way.how == "new":
            return self._new(way, stay, starts)
        if way.how == "after":
            return self._after(way, stay, starts)
        return self._longer(way, stay, starts)

    def _new(self, way: Way, stay: Stay, starts: Slots) -> Burning:
        w = self.problem.frame.weights
        first, last = starts - self.room.warm, starts + stay.size
        sound = first >= 0
        for run in () if self.free else self.runs:
            sound &= (first > run.end) | (last < run.begin)
        turned = w.change_over if stay.turn is not None else 0.0
        points = w.lighting + turned + self.room.fuel_points * (last - first).astype(np.float64)
        return self._told(way, sound, points, (first, last, last, last), np.ones(len(starts), np.bool_))

    def _after(self, way: Way, stay: Stay, starts: Slots) -> Burning:
        run, last = self.runs[way.run], starts + stay.size
        sound = (starts >= run.end + self.room.change_over) & (run.end >= self.problem.frame.outset.earliest)
        sound = sound & self._before_next(way.run, last)
        begins = self.problem.frame.weights.change_over * (1 if stay.turn is None else 2)
        first = np.full_like(starts, run.end)
        points = begins + self.room.fuel_points * (last - first).astype(np.float64)
        return self._told(way, sound, points, (first, last, last, last), np.zeros(len(starts), np.bool_))

    def _longer(self, way: Way, stay: Stay, starts: Slots) -> Burning:
        run = self.runs[way.run]
        heat = self.room.change_over if run.chained else self.room.warm
        fixed = run.chained or run.known
        first = np.full_like(starts, run.begin) if fixed else np.minimum(run.begin, starts - heat)
        sound = (first >= 0) & (first + heat <= starts) & (run.setpoint_c == stay.setpoint_c)
        if way.run > 0 and not run.chained and not self.free:
            sound &= first > self.runs[way.run - 1].end
        old, last, also, begins = self._lengthened(way.run, stay, starts)
        points = begins + self.room.fuel_points * (run.begin - first + last - old).astype(np.float64)
        spans = (first, np.full_like(starts, run.begin), np.full_like(starts, old), last)
        return self._told(way, sound & also, points, spans, first < run.begin)

    def _lengthened(self, index: int, stay: Stay, starts: Slots) -> tuple[int, Slots, Flags, float]:
        """The end as it was, as it becomes, where that can be, and what turning the pit adds."""
        run, end = self.runs[index], starts + stay.size
        if stay.turn is None:
            last = np.maximum(run.end, end)
            return run.end, last, self._before_next(index, last, was=run.end), 0.0
        middle, after = starts + stay.turn, self._chained_after(index)
        if after is None:
            return run.end, end, (middle >= run.end) & self._before_next(index, end), self._change_over()
        last = np.maximum(after.end, end)
        sound = (middle == after.begin) & (after.setpoint_c == stay.then_c)
        return after.end, last, sound & self._before_next(index + 1, last, was=after.end), 0.0

    def _change_over(self) -> float:
        return self.problem.frame.weights.change_over

    def _chained_after(self, index: int) -> Run | None:
        after = self.runs[index + 1] if index + 1 < len(self.runs) else None
        return after if after is not None and after.chained else None

    def _before_next(self, index: int, last: Slots, was: int | None = None) -> Flags:
        """Where a run that ends at `last` leaves the one after it alone."""
        if index + 1 >= len(self.runs) or self.free:
            return np.ones(len(last), np.bool_)
        after = self.runs[index + 1]
        if after.chained:
            return np.zeros(len(last), np.bool_) if was is None else last == was
        return last < after.begin

    def _told(
        self,
        way: Way,
        sound: Flags,
        points: Points,
        spans: tuple[Slots, Slots, Slots, Slots],
        lights: Flags,
    ) -> Burning:
        first, until, again, last = spans
        shut = self.room.shut
        if shut.any():
            before = np.concatenate(([0], np.cumsum(shut)))
            top = len(shut)
            begin, end = np.clip(first, 0, top), np.clip(last, 0, top)
            sound = sound & (before[end] == before[begin])
        return Burning(way, sound, points, first, until, again, last, lights)


def _turned(runs: tuple[Run, ...], index: int, second: Phase) -> tuple[Run, ...] | None:
    """The runs with the pit brought to a second setpoint just where the first phase ends."""
    if runs[index].end != second.begin:
        return None
    for i, run in enumerate(runs):
        if run.chained and run.begin == second.begin:
            if run.setpoint_c != second.setpoint_c:
                return None
            return (*runs[:i], replace(run, end=max(run.end, second.end)), *runs[i + 1 :])
    return (*runs, Run(second.begin, second.end, second.setpoint_c, chained=True))
