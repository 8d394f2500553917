"""Meat lies on a lit pit only, within its room: rows at the edges of buckets where it surely is on."""

from collections import defaultdict
from collections.abc import Iterator

import numpy as np

from board.planning.bound.burning import Burning
from board.planning.bound.choices import Choice
from board.planning.bound.program import Program
from board.planning.bound.relaxed import Relaxed
from board.planning.problem import Part
from board.planning.standing import left_over

# Of parts too large to lie q and one together, at most q lie on one spot; asked for up to this q.
_TOGETHER_MOST = 3


def stays(part: Part, choice: Choice) -> Iterator[tuple[float, int, int]]:
    """Each setpoint a choice asks for, and the slots in which all its starts do, half open."""
    mode = choice.mode
    off = choice.first + part.load + mode.d90
    if mode.turn is None:
        yield mode.setpoint_c, choice.last, off
    else:
        yield mode.setpoint_c, choice.last, choice.first + part.load + mode.turn.after
        yield mode.turn.setpoint_c, choice.last + part.load + mode.turn.after, off


def edges(begin: int, end: int, bucket: int) -> range:
    """The edges of buckets within a half-open span of slots."""
    return range(-(-begin // bucket), -(-end // bucket))


def on_lit_pits(relaxed: Relaxed, block: int, burning: Burning) -> None:
    """Rows for one block: room of each spot, each part on a lit pit, and parts too large to lie together."""
    on: dict[tuple[str, int, int], list[int]] = defaultdict(list)
    for i, choice in enumerate(relaxed.choices):
        if choice.block == block:
            for setpoint, begin, end in stays(relaxed.batches[choice.batch].part, choice):
                for k in edges(begin, end, relaxed.bucket):
                    on[choice.mode.spot, burning.fire[setpoint], k].append(i)
    frame = relaxed.problem.frame
    for spot in dict.fromkeys(key[0] for key in on):
        left = left_over(frame.spots[spot].area_cm2, frame.grid.slots, frame.taken.cooking[spot])
        for (where, fire, k), here in on.items():
            if where == spot:
                lit = int(burning.lit[fire, k - burning.first])
                room = int(left[min(k * relaxed.bucket, len(left) - 1)])
                _one_edge(relaxed, here, lit, room)


def _one_edge(relaxed: Relaxed, here: list[int], lit: int, room: int) -> None:
    """The rows of one spot, fire and edge; a row that others imply is left out."""
    program = relaxed.program
    columns, batch = relaxed.columns[here], np.array([relaxed.choices[i].batch for i in here])
    area = np.array([float(relaxed.batches[b].part.area_cm2) for b in batch])
    kinds = {int(b): relaxed.batches[b] for b in batch}
    if lit < 0:
        program.at_most(columns, np.ones(len(columns)), 0.0)
        return
    if sum(kind.part.area_cm2 * kind.count for kind in kinds.values()) >= room:
        _within(program, columns, area, lit, room)
    for b, kind in kinds.items():
        if kind.part.area_cm2 * kind.count < room or kind.part.area_cm2 > room:
            most = kind.count if kind.part.area_cm2 <= room else 0
            chosen = columns[batch == b]
            _within(program, chosen, np.ones(len(chosen)), lit, most)
    for q in range(1, _TOGETHER_MOST + 1):
        large = area * (q + 1) > room
        if sum(kinds[b].count for b in set(batch[large].tolist())) > q and np.any(area[large] * q < room):
            _within(program, columns[large], np.ones(int(large.sum())), lit, q)


def _within(program: Program, columns: np.ndarray, amounts: np.ndarray, lit: int, most: int) -> None:
    """Σ amounts·x ≤ most · lit."""
    program.at_most(np.append(columns, lit), np.append(amounts, -float(most)), 0.0)
