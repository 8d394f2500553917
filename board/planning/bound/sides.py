"""Bench, hold, hands and attention, at instants and in spans where a load surely needs them.

A part off its pit rests at least `rest_min` and at most `rest_max`, then waits in the hold until its last
occasion. So of a choice whose starts run from first to last, with off = start + load + d50, it is surely
* on the bench in slots [off(last), off(first) + rest_min),
* in the hold in slots [off(last) + rest_max, wait_until),
* on one of the two in slots [off(last), wait_until),
and takes hands in a span of slots for at least the least overlap any of its starts has with the span.
Rows that ask for no more than that hold for every plan. Work on the pit takes one person a task who can do
it (`Crew.limits`), and with the lit fires no more attention than there is.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from board.planning.bound.alike import Block
from board.planning.bound.burning import Burning
from board.planning.bound.choices import Choice
from board.planning.bound.meat import edges
from board.planning.bound.relaxed import Relaxed
from board.planning.problem import Part, Placed, Problem, tasks
from board.planning.standing import left_over

# Hands are counted over spans of this many buckets, at least.
_SPAN_SLOTS = 6


def bench_and_hold(relaxed: Relaxed) -> None:
    """What surely rests, waits, or does one of both at an edge has room there."""
    frame = relaxed.problem.frame
    bench = left_over(frame.bench_cm2, frame.grid.slots, frame.taken.bench)
    hold = left_over(frame.hold_cm2, frame.grid.slots, frame.taken.hold)
    _room(relaxed, bench, _on_bench)
    _room(relaxed, hold, _in_hold)
    _room(relaxed, bench + hold, _off_pit)


def _on_bench(part: Part, c: Choice) -> tuple[int, int]:
    return c.last + part.load + c.mode.d50, c.first + part.load + c.mode.d50 + part.rest_min


def _in_hold(part: Part, c: Choice) -> tuple[int, int]:
    return c.last + part.load + c.mode.d50 + max(part.rest_min, part.rest_max), part.wait_until


def _off_pit(part: Part, c: Choice) -> tuple[int, int]:
    return c.last + part.load + c.mode.d50, part.wait_until


def _room(
    relaxed: Relaxed,
    room: NDArray[np.int64],
    surely: Callable[[Part, Choice], tuple[int, int]],
) -> None:
    there: dict[int, list[int]] = defaultdict(list)
    for i, choice in enumerate(relaxed.choices):
        for k in edges(*surely(relaxed.batches[choice.batch].part, choice), relaxed.bucket):
            there[k].append(i)
    for k, here in there.items():
        area = np.array([float(relaxed.batches[relaxed.choices[i].batch].part.area_cm2) for i in here])
        kinds = {relaxed.choices[i].batch for i in here}
        most = int(room[min(k * relaxed.bucket, len(room) - 1)])
        if sum(relaxed.batches[b].part.area_cm2 * relaxed.batches[b].count for b in kinds) > most:
            relaxed.program.at_most(relaxed.columns[here], area, float(most))


def hands(relaxed: Relaxed) -> None:
    """In each span of slots, the work surely done in it takes no more people than can do it."""
    frame, span = relaxed.problem.frame, max(1, _SPAN_SLOTS // relaxed.bucket) * relaxed.bucket
    for kinds, people in frame.crew.limits(("light", "load", "pull", "set", "wrap")):
        given = np.concatenate(([0], np.cumsum(np.maximum(0, people - _given(relaxed.problem, kinds)))))
        work: dict[int, list[tuple[int, int]]] = defaultdict(list)
        for i, choice in enumerate(relaxed.choices):
            for at, slots in _surely(relaxed.batches[choice.batch].part, choice, kinds, span):
                work[at].append((i, slots))
        for at, rows in work.items():
            end = min((at + 1) * span, len(given) - 1)
            there = max(0, int(given[end] - given[min(at * span, end)]))
            most = sum(
                max(n for j, n in rows if relaxed.choices[j].batch == b) * relaxed.batches[b].count
                for b in {relaxed.choices[j].batch for j, _ in rows}
            )
            if most > there:
                columns = relaxed.columns[[i for i, _ in rows]]
                relaxed.program.at_most(columns, np.array([float(n) for _, n in rows]), float(there))


def _given(problem: Problem, kinds: Iterable[str]) -> NDArray[np.int64]:
    """People that work of loads which stand takes already, whose hands are not named yet."""
    taken = np.zeros(problem.frame.grid.slots, dtype=np.int64)
    for task in problem.frame.taken.tasks:
        if task.what in kinds:
            taken[task.begin : task.end] += 1
    return taken


def _surely(part: Part, choice: Choice, kinds: Iterable[str], span: int) -> Sequence[tuple[int, int]]:
    """Spans and the least slots of these kinds of work that each start of a choice has in them."""
    ends = (tasks(part, Placed(choice.mode, s, part.rest_min)) for s in (choice.first, choice.last))
    found: dict[int, int] = defaultdict(int)
    for early, late in zip(*ends, strict=True):
        if early.what in kinds:
            for at in range(early.begin // span, (late.end - 1) // span + 1):
                begin, end = at * span, (at + 1) * span
                least = min(_overlap(t.begin, t.end, begin, end) for t in (early, late))
                found[at] += least
    return [(at, slots) for at, slots in found.items() if slots > 0]


def _overlap(a: int, b: int, begin: int, end: int) -> int:
    return max(0, min(b, end) - max(a, begin))


def attention(relaxed: Relaxed, fires: Sequence[tuple[Block, Burning]]) -> None:
    """Lit fires take no more attention at an edge than there is."""
    frame = relaxed.problem.frame
    crew = frame.crew.attention(frame.weights.task_attention_percent)
    watch = np.maximum(crew, _known_watch(relaxed.problem))
    lit: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for block, burning in fires:
        tend = frame.pits[block.pit].tend_percent
        for k, column in enumerate(burning.lit.T):
            lit[burning.first + k] += [(int(c), tend) for c in column if c >= 0 and tend]
    most = sum(frame.pits[block.pit].tend_percent * block.count for block, _ in fires)
    for k, burn in lit.items():
        there = int(watch[min(k * relaxed.bucket, len(watch) - 1)])
        if most > there and burn:
            columns, percent = (np.array(side) for side in zip(*burn, strict=True))
            relaxed.program.at_most(columns, percent.astype(np.float64), float(there))


def _known_watch(problem: Problem) -> NDArray[np.int64]:
    """The attention that fires burning already take, which is given to them whoever is there."""
    watched = np.zeros(problem.frame.grid.slots, dtype=np.int64)
    for pit, runs in problem.frame.taken.runs.items():
        for run in runs:
            watched[run.begin : run.end] += problem.frame.pits[pit].tend_percent
    return watched
