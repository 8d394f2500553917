"""Better a plan a few fires at a time: free them, solve them exactly beside the rest, keep what is not worse.

Large neighbourhood search (Shaw 1998, CP98, LNCS 1520:417, from memory).
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from random import Random

from board.planning.problem import Assignment, Problem, points
from board.planning.run import Run
from board.planning.search.freed import Freed, joined, part_problem
from board.planning.search.neighbours import neighbourhood
from board.planning.search.progress import Stop
from board.planning.search.sound import is_sound

# Work given to one round, in seconds, and what writing its model counts as.
_ROUND_SECONDS = 2.0
_MODEL_SECONDS = 0.1
# Points closer together than this are the same: rounding of tenths in the solver.
_SAME_POINTS = 0.5


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
    while left > 0 and not budget.stopped:
        freed = neighbourhood(problem, plan, random)
        if freed is None:
            break
        found, worked = _solved(problem, plan, freed, budget, min(left, _ROUND_SECONDS))
        left -= worked + _MODEL_SECONDS
        if found is None:
            continue
        now = points(problem, found)
        if now <= cost + _SAME_POINTS and is_sound(problem, found):
            if now < cost - _SAME_POINTS:
                tell(now)
            plan, cost = found, min(now, cost)
    return plan


def _solved(
    problem: Problem, plan: Assignment, freed: Freed, budget: Budget, seconds: float
) -> tuple[Assignment | None, float]:
    from board.planning.solver.solve import solve  # noqa: PLC0415 - the solver takes 0.4 s to import

    part = part_problem(problem, plan, freed)
    ids = {p.id for p in freed.parts}
    runs = {pit: _as_known(plan.runs[pit], part.frame.taken.runs[pit]) for pit in plan.runs}
    hint = Assignment({k: at for k, at in plan.placed.items() if k in ids}, runs)
    found = solve(part, hint, seconds=seconds, seed=budget.seed, stop=budget.stop)
    if found.solution is None:
        return None, found.worked
    return joined(problem, plan, freed, found.solution), found.worked


def _as_known(runs: tuple[Run, ...], standing: tuple[Run, ...]) -> tuple[Run, ...]:
    begun = {run.begin for run in standing}
    return tuple(replace(run, known=run.begin in begun) for run in runs)
