"""What a plan leaves out or brings late, and whether it could do better with the pits to itself."""

from dataclasses import replace

from board.planning.problem import Assignment, Part, Placed, Problem, late_points
from board.planning.search.insertion import cheapest_fit
from board.planning.search.occupancy import Occupancy


def unmet(problem: Problem, plan: Assignment) -> list[Part]:
    """The parts left out, or likelier than not late."""
    return [part for part in problem.parts if _lacking(problem, part, plan.placed.get(part.id)) > 0]


def could_do_better(problem: Problem, plan: Assignment, part: Part) -> bool:
    """Whether a part would lack less beside nothing but what stands: else no moving of others helps it."""
    alone = cheapest_fit(Occupancy(problem), replace(part, kept=None))
    least = _lacking(problem, part, alone.placed if alone else None)
    return least < _lacking(problem, part, plan.placed.get(part.id))


def _lacking(problem: Problem, part: Part, at: Placed | None) -> float:
    """What a part costs because it is left out or late, and nothing else."""
    if at is None:
        return problem.frame.weights.unserved_portion * part.worth
    return late_points(problem, part, at)
