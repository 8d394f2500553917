"""A plan laid open, so that one load after another can be tried elsewhere at once."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial

from board.errors import PlanError
from board.house.model import House
from board.house.wording import nearest
from board.planning.build import build
from board.planning.costs import cost_parts
from board.planning.demand import needs_of
from board.planning.dues import Promises, occasions_on
from board.planning.plan import CostParts, Plan, Risk
from board.planning.problem import Assignment, Part, Problem
from board.planning.replan.carry import Again, again
from board.planning.replan.keeping import seated
from board.planning.risk import risks
from board.planning.search.tidy import tidy
from board.planning.standing import NOTHING, Standing
from board.planning.weights import weights_of


@dataclass(frozen=True)
class Desk:
    """A plan as a problem with each load in its place; `parts` is the part behind each load, by its id.

    `costs` are without those of moving, `risks` of what is still to be cooked.
    """

    problem: Problem
    plan: Assignment
    parts: Mapping[str, Part]
    costs: CostParts
    risks: tuple[Risk, ...]

    def part(self, load: str) -> Part:
        """The part behind a load.

        Raises:
            PlanError: for a load that is not in the plan, has begun, or has no place.
        """
        if load not in self.parts:
            known = nearest(load, list(self.parts))
            raise PlanError(f"no load {load!r} that can still be moved; those are {known}")
        return self.parts[load]


def desk_of(
    house: House,
    plan: Plan,
    *,
    promises: Promises | None = None,
    seed: int = 0,
    now: datetime | None = None,
    standing: Standing = NOTHING,
) -> Desk:
    """Lay a plan open; arguments as for `plan_day`. It is left as it is."""
    weights = weights_of(house.weighing)
    occasions = occasions_on(house, plan.day, promises)
    own = standing.serving(occasions, [load.id for load in plan.loads])
    needs = needs_of(house, occasions, weights.enough_chance, own.loads)
    if not needs:
        raise PlanError(f"all of {plan.day} has begun: no load can be moved any more")
    built = partial(build, house, weights=weights, seed=seed, now=now, standing=standing)
    problem = again(built, Again(house, needs, plan, own, ()), weights)
    placed = tidy(problem, seated(problem, as_it_stands=True).plan)
    parts = {part.kept.load: part for part in problem.parts if part.kept and part.id in placed.placed}
    costs = replace(cost_parts(problem, placed), moved=0.0)
    return Desk(problem, placed, parts, costs, risks(problem, placed))
