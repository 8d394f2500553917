"""A plan made again with something of the house changed, and how much it then lacks."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial

from board.house.model import House
from board.planning.assemble import Laid, lay_out
from board.planning.build import build
from board.planning.demand import Need, needs_of
from board.planning.dues import Promises, occasions_on
from board.planning.plan import Plan, PlannedLoad, PlannedStep
from board.planning.problem import Assignment, Problem, points
from board.planning.replan.carry import Again, again
from board.planning.replan.pin import Pin
from board.planning.replan.settled import settled_soon
from board.planning.search.progress import Stop
from board.planning.shortfall.lacking import Portions, missing_of
from board.planning.standing import Standing
from board.planning.weights import Weights


@dataclass(frozen=True)
class Asked:
    """What a plan was asked: everything but the house and its promises."""

    day: date
    weights: Weights
    seconds: float
    seed: int
    now: datetime | None
    standing: Standing
    promises: Promises
    pins: tuple[Pin, ...] = ()
    stop: Stop | None = None


@dataclass(frozen=True)
class Tried:
    """What a plan came to: what it lacks, its loads and steps, and its cost without what is unserved."""

    missing: Portions
    loads: tuple[PlannedLoad, ...]
    steps: tuple[PlannedStep, ...]
    points: float

    @property
    def lacks(self) -> int:
        """All portions missing or late."""
        return sum(self.missing.values())

    @property
    def undone(self) -> int:
        """Steps that nobody does."""
        return sum(step.who is None for step in self.steps)


# Plans the day again for a changed house and changed promises.
Attempt = Callable[[House, Promises], Tried]


def attempt_with(asked: Asked, made: Plan) -> Attempt:
    """A way to plan the same day again from the plan just made, of which what can stay does."""
    return partial(_attempt, asked, made)


def _attempt(asked: Asked, made: Plan, house: House, promises: Promises) -> Tried:
    occasions = occasions_on(house, asked.day, {**asked.promises, **promises})
    ids = [load.id for load in made.loads]
    own = asked.standing.serving(occasions, ids)
    needs = needs_of(house, occasions, asked.weights.enough_chance, own.loads)
    if not needs:
        return Tried({}, (), (), 0.0)
    built = partial(
        build, house, weights=asked.weights, seed=asked.seed, now=asked.now, standing=asked.standing
    )
    pins = tuple(pin for pin in asked.pins if pin.load in ids)
    problem = again(built, Again(house, needs, made, own, pins), asked.weights)
    answer = settled_soon(problem, seconds=asked.seconds, seed=asked.seed, stop=asked.stop)
    laid = lay_out(
        house,
        answer.problem,
        answer.solution,
        asked.day,
        own,
        committed=made,
        named=ids,
        beside=asked.standing,
    )
    return tried_of(answer.problem, answer.solution, answer.problem.needs, laid)


def tried_of(problem: Problem, plan: Assignment, needs: tuple[Need, ...], laid: Laid) -> Tried:
    """A settled plan as something tried."""
    left_out = sum(part.worth for part in problem.parts if part.id not in plan.placed)
    rest = points(problem, plan) - problem.frame.weights.unserved_portion * left_out
    return Tried(missing_of(problem, plan, needs), laid.loads, laid.steps, rest)
