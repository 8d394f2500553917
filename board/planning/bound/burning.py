"""When the pits of a block burn, at the edges of buckets: a flow from cold to a setpoint, another, and cold.

At edge k a pit is idle, or lit: hot at one setpoint. Every true plan is such a flow and costs no less:
* a run lit from edge k to edge m, from cold, burns at least its warm-up, (m - k) buckets and a slot more;
* a pit brought to another setpoint burns all the time from the last edge of one to the first of the next;
* after a run last lit at edge k the same pit is lit from cold at the earliest one slot and its warm-up later.
Runs that cover no edge cost nothing here, and lie between edges where the flow may be idle or lit; one that
is known may be kept longer or brought over all the same.
A fire known to burn is paid for outside the flow (`known_points`), so that its edges are free of charge.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.planning.bound.alike import Block, fires
from board.planning.bound.relaxed import Relaxed
from board.planning.problem import Mode, Problem, run_points
from board.planning.run import Run


@dataclass(frozen=True)
class Burning:
    """Columns that count the lit pits of a block: `lit[fire, k - first]` at edge k; -1 where none can be."""

    first: int
    lit: NDArray[np.int64]
    fire: dict[float, int]


def known_points(problem: Problem) -> float:
    """What the fires that burn already cost, as far as they are decided."""
    return sum(
        run_points(problem, pit, run) for pit, runs in problem.frame.taken.runs.items() for run in runs
    )


def burning(relaxed: Relaxed, block: Block, modes: Sequence[Mode], edges: tuple[int, int]) -> Burning:
    """Write down the fires of a block between two edges, both included."""
    known = relaxed.problem.frame.taken.runs[block.pit]
    fire = fires(
        [m.setpoint_c for m in modes]
        + [m.turn.setpoint_c for m in modes if m.turn]
        + [run.setpoint_c for run in known]
    )
    net = _Net(relaxed, block, edges, len(set(fire.values())))
    net.write(known, fire, turning=any(m.turn for m in modes))
    return Burning(edges[0], net.lit, fire)


class _Net:
    """The flow of one block while it is written down."""

    def __init__(self, relaxed: Relaxed, block: Block, edges: tuple[int, int], number: int) -> None:
        self.program, self.bucket = relaxed.program, relaxed.bucket
        self.weights = relaxed.problem.frame.weights
        self.room, self.count = relaxed.problem.frame.pits[block.pit], block.count
        self.first, self.steps = edges[0], edges[1] - edges[0] + 1
        self.lit = np.full((number, self.steps), -1, dtype=np.int64)
        self.into: dict[tuple[int, int], list[int]] = defaultdict(list)
        self.out: dict[tuple[int, int], list[int]] = defaultdict(list)

    def write(self, known: Sequence[Run], fire: dict[float, int], *, turning: bool) -> None:
        """Columns for the arcs, and at each edge a row in and a row out for each fire and for idle pits."""
        fuel = self._fuel(known)
        change_over = 0 if turning else self.room.change_over
        self._light(known, fire, fuel)
        self._carry_on(known, fire, change_over)
        self._burn_on(fuel, change_over)
        self._balance()

    def _slot(self, k: int) -> int:
        return (self.first + k) * self.bucket

    def _fuel(self, known: Sequence[Run]) -> list[float]:
        """Fuel from each edge to the next, but for what known fires burn anyway."""
        free = [
            sum(max(0, min(run.end, self._slot(k + 1)) - max(run.begin, self._slot(k))) for run in known)
            for k in range(self.steps)
        ]
        return [self.room.fuel_points * float(self.bucket - slots) for slots in free]

    def _light(self, known: Sequence[Run], fire: dict[float, int], fuel: list[float]) -> None:
        w, warm = self.weights, self.room.warm
        held = {
            k: fire[r.setpoint_c]
            for r in known
            for k in range(self.steps)
            if r.begin <= self._slot(k) < r.end
        }
        after = -(-(1 + warm) // self.bucket)
        for k in range(self.steps):
            for s in range(len(self.lit)):
                if held.get(k, s) != s or (k not in held and self._shut(k)):
                    continue
                cost = w.lighting + self.room.fuel_points * (warm + 1.0)
                self.lit[s, k] = self._column(0.0)
                if k in held:
                    self._arc((-1, k), (s, k), 0.0)
                else:
                    self._arc((-1, max(0, k - after + 1)), (s, k), cost)

    def _carry_on(self, known: Sequence[Run], fire: dict[float, int], change_over: int) -> None:
        """Known fires kept longer or brought over from their ends, even where they end before any edge."""
        for run in known:
            for s in range(len(self.lit)):
                other = s != fire[run.setpoint_c]
                k = max(0, -(-(run.end + change_over * other) // self.bucket) - self.first)
                if k < self.steps and self.lit[s, k] >= 0:
                    cost = self.room.fuel_points * (self._slot(k) + 1.0 - run.end)
                    self._arc((-1, k), (s, k), cost + self.weights.change_over * other)

    def _shut(self, k: int) -> bool:
        return bool(self.room.shut[min(self._slot(k), len(self.room.shut) - 1)])

    def _burn_on(self, fuel: list[float], change_over: int) -> None:
        later = -(-(1 + change_over) // self.bucket)
        for k in range(self.steps):
            self._arc((-1, k), (-1, k + 1), 0.0)
        for s, k in zip(*np.nonzero(self.lit >= 0), strict=True):
            self._arc((int(s), int(k)), (-1, int(k) + 1), 0.0)
            if k + 1 < self.steps and self.lit[s, k + 1] >= 0:
                self._arc((int(s), int(k)), (int(s), int(k) + 1), fuel[k])
            for other in range(len(self.lit)):
                if other != s and k + later < self.steps and self.lit[other, k + later] >= 0:
                    cost = self.weights.change_over + sum(fuel[k : k + later])
                    self._arc((int(s), int(k)), (other, int(k) + later), cost)

    def _column(self, cost: float) -> int:
        return int(self.program.columns(np.array([cost]), np.array([float(self.count)]))[0])

    def _arc(self, start: tuple[int, int], end: tuple[int, int], cost: float) -> None:
        column = self._column(cost)
        self.out[start].append(column)
        self.into[end].append(column)

    def _balance(self) -> None:
        for s, k in zip(*np.nonzero(self.lit >= 0), strict=True):
            for arcs in (self.into[int(s), int(k)], self.out[int(s), int(k)]):
                self._row(arcs, [int(self.lit[s, k])], 0.0)
        for k in range(self.steps):
            self._row(self.out[-1, k], self.into[-1, k], float(self.count) if k == 0 else 0.0)

    def _row(self, plus: list[int], minus: list[int], rhs: float) -> None:
        columns = np.array(plus + minus, dtype=np.int64)
        amounts = np.repeat([1.0, -1.0], [len(plus), len(minus)])
        if len(columns):
            self.program.equals(columns, amounts, rhs)
