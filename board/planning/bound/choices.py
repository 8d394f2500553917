"""Starts gathered in buckets: each costs what its cheapest start does, and counts where all agree."""

from dataclasses import dataclass

import numpy as np

from board.planning.bound.alike import Batch, Block
from board.planning.bound.program import Floats
from board.planning.problem import Mode, Problem
from board.planning.search.shapes import start_points


@dataclass(frozen=True)
class Choice:
    """Starting a part of a batch in a bucket of one mode: from its first start to its last."""

    batch: int
    block: int
    mode: Mode
    points: float
    first: int
    last: int


def choices(problem: Problem, batches: list[Batch], blocks: list[Block], bucket: int) -> list[Choice]:
    """Every way to cook each part; without the starts that cost more than leaving the part out.

    A part that costs more than it is worth can be left out of any plan, which breaks no rule.
    """
    block_of = {block.pit: i for i, block in enumerate(blocks)}
    found: list[Choice] = []
    for b, batch in enumerate(batches):
        dropped = np.inf if batch.part.pinned else problem.frame.weights.unserved_portion * batch.part.worth
        for mode in batch.part.modes:
            if mode.pit in block_of and mode.starts:
                points = start_points(problem, batch.part, mode, np.array(mode.starts))
                found += [
                    Choice(b, block_of[mode.pit], mode, *row) for row in _rows(mode, points, dropped, bucket)
                ]
    return found


def _rows(mode: Mode, points: Floats, dropped: float, bucket: int) -> list[tuple[float, int, int]]:
    """Each bucket's cheapest points, first and last start."""
    keep = points <= dropped
    starts, points = np.array(mode.starts)[keep], points[keep]
    if not len(starts):
        return []
    heads = np.flatnonzero(np.diff(starts // bucket, prepend=-1))
    cheapest = np.minimum.reduceat(points, heads)
    lasts = np.append(starts[heads[1:] - 1], starts[-1])
    return [(float(p), int(a), int(z)) for p, a, z in zip(cheapest, starts[heads], lasts, strict=True)]
