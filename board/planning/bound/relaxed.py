"""A problem in buckets of starts while its linear program is written."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.planning.bound.alike import Batch, Block
from board.planning.bound.choices import Choice
from board.planning.bound.program import Ints, Program
from board.planning.problem import Problem


@dataclass(frozen=True)
class Relaxed:
    """The program so far: `columns[i]` takes choice i, which is of the parts of one of the `batches`."""

    problem: Problem
    bucket: int
    program: Program
    batches: Sequence[Batch]
    blocks: Sequence[Block]
    choices: Sequence[Choice]
    columns: Ints
