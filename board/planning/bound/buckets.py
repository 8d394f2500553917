"""What no plan can beat: a time-indexed relaxation in buckets, solved as a linear program,
or with whole loads and fires as an integer one.

Starts are gathered in buckets at the cheapest start of each; room, fire, bench, hold and people are asked
for only where a bucket's starts all agree. So the optimum lies below every plan's cost. After the
time-indexed formulations of single-machine scheduling (Sousa and Wolsey 1992, Mathematical Programming
54:353, from memory).
"""

import numpy as np

from board.planning.bound import sides
from board.planning.bound.alike import Block, batches, blocks
from board.planning.bound.burning import Burning, burning, known_points
from board.planning.bound.choices import choices
from board.planning.bound.kinds import gathered
from board.planning.bound.meat import edges, on_lit_pits, stays
from board.planning.bound.program import Program
from board.planning.bound.relaxed import Relaxed
from board.planning.bound.whole import whole
from board.planning.problem import Problem

# The simplex gives up after so much of the solver's own count of work; what it has then is a bound too.
_WORK = 6.0
ALL = frozenset(("room", "hands", "attention"))


def bucket_bound(problem: Problem, bucket: int, asked: frozenset[str] = ALL) -> float:
    """Points that every plan costs at least, with starts in buckets of so many slots.

    Args:
        asked: the limits asked for beside the pits: "room" on bench and in hold, "hands", "attention".
    """
    program = _written(problem, bucket, asked)
    return known_points(problem) + max(0.0, program.solve(_WORK).bound)


def whole_bound(problem: Problem, bucket: int, *, seed: int, asked: frozenset[str] = ALL) -> float:
    """The bound with whole loads and whole fires: higher than `bucket_bound`, and dearer.

    Args:
        seed: of the solver's own choices.
        asked: as for `bucket_bound`.
    """
    program = _written(problem, bucket, asked)
    return known_points(problem) + max(0.0, whole(program, seed=seed))


def _written(problem: Problem, bucket: int, asked: frozenset[str]) -> Program:
    relaxed = _relaxed(problem, bucket)
    fires = [found for block in range(len(relaxed.blocks)) if (found := _fires(relaxed, block))]
    if "room" in asked:
        sides.bench_and_hold(relaxed)
    if "hands" in asked:
        sides.hands(relaxed)
    if "attention" in asked:
        sides.attention(relaxed, fires)
    return relaxed.program


def _relaxed(problem: Problem, bucket: int) -> Relaxed:
    """A program with a column for each choice, and each part cooked once or left out."""
    problem, stands_for = gathered(problem)
    program, kinds, pits = Program(), batches(problem), blocks(problem, stands_for)
    found = choices(problem, kinds, pits, bucket)
    count = np.array([float(kinds[c.batch].count) for c in found])
    columns = program.columns(np.array([c.points for c in found]), count)
    worth = np.array([problem.frame.weights.unserved_portion * kind.part.worth for kind in kinds])
    dropped = program.columns(worth, np.array([float(kind.count) for kind in kinds]))
    of = np.array([c.batch for c in found], dtype=np.int64)
    for b, kind in enumerate(kinds):
        mine = np.append(columns[of == b], dropped[b])
        program.equals(mine, np.ones(len(mine)), float(kind.count))
    return Relaxed(problem, bucket, program, kinds, pits, found, columns)


def _fires(relaxed: Relaxed, block: int) -> tuple[Block, Burning] | None:
    """The fires of one block with the meat on them; none where no part surely meets an edge there."""
    here = [c for c in relaxed.choices if c.block == block]
    on = [
        edges(begin, end, relaxed.bucket)
        for c in here
        for _, begin, end in stays(relaxed.batches[c.batch].part, c)
    ]
    met = [span for span in on if len(span)]
    if not met:
        return None
    modes = list({id(c.mode): c.mode for c in here}.values())
    spanned = min(span[0] for span in met), max(span[-1] for span in met)
    burns = burning(relaxed, relaxed.blocks[block], modes, spanned)
    on_lit_pits(relaxed, block, burns)
    return relaxed.blocks[block], burns
