"""How far a search has come, for those who watch it."""

from collections.abc import Callable
from dataclasses import dataclass

from board.planning.problem import Assignment, Problem


@dataclass(frozen=True)
class Progress:
    """How far the search has come: the best cost so far and what no plan can beat."""

    cost: float
    bound: float
    stage: str


# Told of each better plan; may be called from another thread.
Watcher = Callable[[Progress], None]
# Asked now and then; true ends the search with the best plan so far.
Stop = Callable[[], bool]


@dataclass(frozen=True)
class Answer:
    """A settled solution of a problem, parts perhaps cut smaller than asked: what it is and how good."""

    problem: Problem
    solution: Assignment
    bound: float
    proved: bool


def nobody(_progress: Progress) -> None:
    """Nobody watches the search."""


def never() -> bool:
    """Nobody stops the search."""
    return False
