"""What is taken: pits, hands, attention, bench and hold, slot by slot, as loads are placed one by one."""

from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from board.planning.problem import (
    Assignment,
    Part,
    Placed,
    Problem,
    cooking,
    holding,
    off_slot,
    on_slot,
    part_points,
    resting,
    run_points,
)
from board.planning.run import Run
from board.planning.standing import left_over

Room = NDArray[np.int64]

# The limits a placement can break; each can be lifted, to find which one binds.
LIMITS = ("pit room", "setpoint", "hands", "attention", "bench", "hold")


@dataclass(frozen=True)
class Fit:
    """A way to place a part: its place, the pit's runs then, and the points it adds."""

    placed: Placed
    runs: tuple[Run, ...]
    added: float


@dataclass
class Occupancy:
    """A partial plan: what is placed, and what is left of everything.

    `lifted` names limits not to be kept: only the search for what binds lifts any.
    """

    problem: Problem
    lifted: frozenset[str] = frozenset()
    placed: dict[str, Placed] = field(default_factory=dict)
    runs: dict[str, tuple[Run, ...]] = field(init=False)

    def __post_init__(self) -> None:
        p, slots = self.problem.frame, self.problem.frame.grid.slots
        self.pit_left: dict[str, Room] = {
            key: left_over(spot.area_cm2, slots, p.taken.cooking[key]) for key, spot in p.spots.items()
        }
        self.hands_left: Room = p.crew.hands
        self.attention_left: Room = p.crew.attention(p.weights.task_attention_percent)
        self.bench_left: Room = left_over(p.bench_cm2, slots, p.taken.bench)
        self.hold_left: Room = left_over(p.hold_cm2, slots, p.taken.hold)
        self.runs = dict.fromkeys(p.pits, ())
        for pit, runs in p.taken.runs.items():
            self.burn(pit, runs)

    def assignment(self) -> Assignment:
        """The partial plan as a solution."""
        return Assignment(dict(self.placed), dict(self.runs))

    def fit(self, part: Part, at: Placed) -> Fit | str:
        """How a part fits at a place, or the first limit it breaks."""
        broken = self._room_broken(part, at)
        if broken:
            return broken
        runs = self._cheapest_runs(part, at)
        if runs is None:
            return "setpoint"
        broken = self._people_broken(part, at, runs)
        if broken:
            return broken
        before = sum(run_points(self.problem, at.mode.pit, run) for run in self.runs[at.mode.pit])
        after = sum(run_points(self.problem, at.mode.pit, run) for run in runs)
        return Fit(at, runs, part_points(self.problem, part, at) + after - before)

    def place(self, part: Part, fit: Fit) -> None:
        """Take the room a fit asks for."""
        self._take(part, fit.placed)
        self.burn(fit.placed.mode.pit, fit.runs)
        self.placed[part.id] = fit.placed

    def burn(self, pit: str, runs: tuple[Run, ...]) -> None:
        """Let a pit burn in these runs and no others."""
        self._tend(pit, self.runs[pit], -1)
        self._tend(pit, runs, 1)
        self.runs[pit] = runs

    def _room_broken(self, part: Part, at: Placed) -> str | None:
        limits = (
            ("pit room", self.pit_left[at.mode.spot], *cooking(part, at)),
            ("bench", self.bench_left, *resting(part, at)),
            ("hold", self.hold_left, *holding(part, at)),
        )
        for name, left, begin, end in limits:
            if name not in self.lifted and end > begin and left[begin:end].min() < part.area_cm2:
                return name
        return None

    def _people_broken(self, part: Part, at: Placed, runs: tuple[Run, ...]) -> str | None:
        tasks = task_slots(part, at) + light_slots(self.problem, at.mode.pit, runs, self.runs[at.mode.pit])
        hands = self._hands_after(tasks)
        if "hands" not in self.lifted and hands is not None and hands < 0:
            return "hands"
        if "attention" in self.lifted:
            return None
        left = self._attention_after(at, runs, tasks)
        overdrawn = (left < 0) & (left < self.attention_left)
        return "attention" if overdrawn.any() else None

    def _attention_after(self, at: Placed, runs: tuple[Run, ...], tasks: list[tuple[int, int]]) -> Room:
        left = self.attention_left.copy()
        for begin, end in tasks:
            left[begin:end] -= self.problem.frame.weights.task_attention_percent
        tend = self.problem.frame.pits[at.mode.pit].tend_percent
        for run in self.runs[at.mode.pit]:
            left[run.begin : run.end] += tend
        for run in runs:
            left[run.begin : run.end] -= tend
        return left

    def _hands_after(self, tasks: list[tuple[int, int]]) -> int | None:
        if not tasks:
            return None
        first, last = min(b for b, _ in tasks), max(e for _, e in tasks)
        left = self.hands_left[first:last].copy()
        for begin, end in tasks:
            left[begin - first : end - first] -= 1
        return int(min(left[b - first : e - first].min() for b, e in tasks if e > b))

    def _take(self, part: Part, at: Placed) -> None:
        self.pit_left[at.mode.spot][slice(*cooking(part, at))] -= part.area_cm2
        self.bench_left[slice(*resting(part, at))] -= part.area_cm2
        self.hold_left[slice(*holding(part, at))] -= part.area_cm2
        for begin, end in task_slots(part, at):
            self._task(begin, end, 1)

    def _task(self, begin: int, end: int, sign: int) -> None:
        self.hands_left[begin:end] -= sign
        self.attention_left[begin:end] -= sign * self.problem.frame.weights.task_attention_percent

    def _tend(self, pit: str, runs: tuple[Run, ...], sign: int) -> None:
        room = self.problem.frame.pits[pit]
        for run in runs:
            self.attention_left[run.begin : run.end] -= sign * room.tend_percent
            if not run.chained and not run.known:
                self._task(run.begin, run.begin + room.light, sign)

    def _cheapest_runs(self, part: Part, at: Placed) -> tuple[Run, ...] | None:
        begin, end = at.start, on_slot(part, at) + at.mode.d90
        ways = self._ways(at.mode.pit, begin, end, at.mode.setpoint_c)
        sound = [runs for runs in ways if self._sound(at.mode.pit, runs)]
        cost = {runs: sum(run_points(self.problem, at.mode.pit, r) for r in runs) for runs in sound}
        return min(sound, key=lambda runs: cost[runs]) if sound else None

    def _ways(self, pit: str, begin: int, end: int, setpoint_c: float) -> list[tuple[Run, ...]]:
        room, runs = self.problem.frame.pits[pit], self.runs[pit]
        new = Run(begin - room.warm, end, setpoint_c)
        ways = [_in_order((*runs, new))]
        for i, run in enumerate(runs):
            others = (*runs[:i], *runs[i + 1 :])
            if run.setpoint_c == setpoint_c:
                heat = room.change_over if run.chained else room.warm
                first = run.begin if run.chained or run.known else min(run.begin, begin - heat)
                if first + heat <= begin:
                    ways.append(_in_order((*others, replace(run, begin=first, end=max(run.end, end)))))
            if run.end + room.change_over <= begin:
                ways.append(_in_order((*runs, Run(run.end, end, setpoint_c, chained=True))))
        return ways

    def _sound(self, pit: str, runs: tuple[Run, ...]) -> bool:
        shut = self.problem.frame.pits[pit].shut
        inside = all(run.begin >= 0 and not shut[run.begin : run.end].any() for run in runs)
        if "setpoint" in self.lifted:
            return inside
        pairs = list(pairwise(runs))
        apart = all(b.begin == a.end if b.chained else b.begin > a.end for a, b in pairs)
        return inside and apart and not (runs and runs[0].chained and not runs[0].known)


def task_slots(part: Part, at: Placed) -> list[tuple[int, int]]:
    """Slots in which a placed part needs a pair of hands: loading, wrapping, pulling."""
    on, off = on_slot(part, at), off_slot(part, at)
    tasks = [(at.start, on), (off, off + part.pull)]
    if at.mode.wrap is not None:
        tasks.append((on + at.mode.wrap, on + at.mode.wrap + part.wrap))
    return tasks


def light_slots(
    problem: Problem, pit: str, runs: tuple[Run, ...], before: tuple[Run, ...]
) -> list[tuple[int, int]]:
    """Slots of lighting that these runs ask for and the runs before did not."""
    light = problem.frame.pits[pit].light
    lit = {run.begin for run in before if not run.chained}
    new = [run for run in runs if not run.chained and not run.known and run.begin not in lit]
    return [(run.begin, run.begin + light) for run in new]


def _in_order(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    return tuple(sorted(runs, key=lambda run: (run.begin, run.end)))
