"""Better a plan a few fires at a time: free them, solve them exactly beside the rest, keep what is not worse.

Large neighbourhood search (Shaw 1998, CP98, LNCS 1520:417, from memory). Two neighbourhoods are solved at
once, in two threads: the solver holds no lock of Python's. Their answers are taken in a fixed order.
"""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from random import Random

from board.planning.doors import opened_too_often
from board.planning.problem import Assignment, Problem, points
from board.planning.search.crowd import crowd
from board.planning.search.freed import Freed, hint_for, joined, part_problem
from board.planning.search.neighbours import neighbourhood
from board.planning.search.progress import Stop
from board.planning.search.sound import is_sound

# Work given to the solver in a round, in seconds; a judgement, not measured on many houses. After so many
# rounds in vain they are given twice as long, up to the most.
_ROUND_SECONDS = 0.25
_ROUND_MOST = 2.0
_ROUNDS_IN_VAIN = 4
# One round in so many packs what finds no room, while there is any.
_ROUNDS_A_PACKING = 4
# Writing the model and making it smaller is not counted by the solver.
_MODEL_SECONDS = 0.25
# Less than this is too little for a round.
ROUND_LEAST = _ROUND_SECONDS + _MODEL_SECONDS
# Points closer together than this are the same: rounding of tenths in the solver.
SAME_POINTS = 0.5


@dataclass(frozen=True)
class Budget:
    """About how many seconds to search, counted as work, and whom to ask whether to stop."""

    seconds: float
    seed: int
    stop: Stop | None = None

    @property
    def stopped(self) -> bool:
        """Whether somebody wants what there is."""
        return self.stop is not None and self.stop()


def bettered(problem: Problem, plan: Assignment, budget: Budget, tell: Callable[[float], None]) -> Assignment:
    """The plan after as many rounds as the budget allows; never a dearer one.

    Args:
        tell: told the points of each better plan.
    """
    random, left, cost = Random(budget.seed), budget.seconds, points(problem, plan)
    vain, rounds = 0, 0
    with ThreadPoolExecutor(max_workers=2) as hands:
        while left > 0 and not budget.stopped:
            freed = _two(problem, plan, random, packing=rounds % _ROUNDS_A_PACKING == 0)
            rounds += 1
            seconds = min(_ROUND_SECONDS * 2 ** (vain // _ROUNDS_IN_VAIN), _ROUND_MOST, left)
            searches = [hands.submit(_solved, problem, plan, few, seconds, budget) for few in freed]
            answers = [search.result() for search in searches]
            if not answers:
                break
            left -= _MODEL_SECONDS + max(answer.worked for answer in answers)
            plan = _taken_in(problem, plan, answers)
            now = points(problem, plan)
            vain = 0 if now < cost - SAME_POINTS else vain + 1
            if vain == 0:
                tell(now)
            cost = min(cost, now)
    return plan


def _two(problem: Problem, plan: Assignment, random: Random, *, packing: bool) -> list[Freed]:
    """Two neighbourhoods, with no pit and no part in common where there are enough; one a crowd to pack."""
    first = (crowd(problem, plan, random) if packing else None) or neighbourhood(problem, plan, random)
    if first is None:
        return []
    second = neighbourhood(problem, plan, random, beside=first) or neighbourhood(problem, plan, random)
    return [first, second] if second else [first]


@dataclass(frozen=True)
class _Answer:
    """What was found for a neighbourhood, and the seconds of work it took."""

    problem: Problem
    freed: Freed
    found: Assignment | None
    worked: float

    def in_place(self, plan: Assignment) -> Assignment:
        """The plan with what was found in it."""
        return plan if self.found is None else joined(self.problem, plan, self.freed, self.found)


def _taken_in(problem: Problem, plan: Assignment, answers: list[_Answer]) -> Assignment:
    """The plan with each answer that makes it no dearer, the best first, none that touches another's pits."""
    cost, pits, oftener = points(problem, plan), frozenset[str](), opened_too_often(problem, plan)
    for answer in sorted(answers, key=lambda answer: points(problem, answer.in_place(plan))):
        tried = answer.in_place(plan)
        apart = not pits & answer.freed.pits and opened_too_often(problem, tried) <= oftener
        if apart and points(problem, tried) <= cost + SAME_POINTS and is_sound(problem, tried):
            plan, cost, pits = tried, points(problem, tried), pits | answer.freed.pits
    return plan


def _solved(problem: Problem, plan: Assignment, freed: Freed, seconds: float, budget: Budget) -> _Answer:
    from board.planning.solver.packing import pack  # noqa: PLC0415 - the solver takes 0.4 s to import
    from board.planning.solver.solve import solve  # noqa: PLC0415

    part = part_problem(problem, plan, freed)
    hint = hint_for(part, plan, freed)
    if freed.packed:
        below = points(part, hint) - SAME_POINTS
        found = pack(part, hint, below=below, seconds=seconds, seed=budget.seed, stop=budget.stop)
    else:
        found = solve(part, hint, seconds=seconds, seed=budget.seed, workers=1, stop=budget.stop)
    return _Answer(problem, freed, found.solution, found.worked)
