"""The batches a plan uses: how much, made when and by whom, and until when they are good."""

from collections.abc import Container, Sequence
from datetime import date, datetime, timedelta

import numpy as np

from board.batches.merge import BatchDemand, Making, Window, fewest_makings, ready_and_use_by
from board.batches.served import dose_kg
from board.house.model import House, Recipe
from board.planning.crew import Flags
from board.planning.grid import Grid, step_slots, stretches
from board.planning.names import Names
from board.planning.plan import PlannedBatch, PlannedStep
from board.planning.problem import Part, Problem
from board.planning.roster import Roster

# A step nobody has been named for yet, and the roster's job for it.
Given = tuple[PlannedStep, int]


def recipe_kg(house: House, recipe_id: str, part: Part) -> float:
    """Kilograms of a recipe that the pieces of a part take, by their raw mass or their surface."""
    cut = part.need.cut
    return dose_kg(house.recipes[recipe_id], cut, part.pieces, cut.mass_kg.usual)


def make_batches(
    problem: Problem,
    roster: Roster,
    day: date,
    demands: Sequence[BatchDemand],
    used: Container[str],
) -> tuple[list[PlannedBatch], list[Given]]:
    """The fewest makings for what the loads use, each as late as someone is free; and their steps."""
    batches, names = [], Names(used)
    steps: list[Given] = []
    house = problem.frame.house
    for making in fewest_makings(demands, house.recipes, _makeable(problem, roster)):
        recipe = house.recipes[making.recipe]
        batch_id = names.new(f"{day:%m%d}-{recipe.id}")
        step, job = _made(problem, roster, recipe, making, batch_id)
        batches.append(_batch(recipe, batch_id, making, step.ends_at))
        steps.append((step, job))
    return batches, steps


def _makeable(problem: Problem, roster: Roster) -> list[Window]:
    """Stretches of time, from now on, in which someone who makes batches is there and free."""
    free = roster.free("make", 1)
    free[: problem.frame.outset.earliest] = False
    moment = problem.frame.grid.moment
    return [(moment(begin), moment(begin + size)) for begin, size, on in stretches(free) if on]


def _made(problem: Problem, roster: Roster, recipe: Recipe, making: Making, batch_id: str) -> Given:
    grid, earliest = problem.frame.grid, problem.frame.outset.earliest
    minutes = recipe.make_work.minutes(1)
    slots = step_slots(minutes)
    first, last = grid.ceil(making.make_from) - slots, grid.floor(making.make_by) - slots
    first, last = max(first, earliest), max(last, earliest)
    begin = roster.latest("make", slots, _between(grid, first, last), max(0, last))
    job = roster.leave("make", last, slots) if begin is None else roster.give("make", begin, slots)
    at = grid.moment(begin if begin is not None else last)
    ends = at + timedelta(minutes=minutes)
    return PlannedStep(f"{batch_id}.make", at, ends, "make", None, None, batch_id, minutes), job


def _batch(recipe: Recipe, batch_id: str, making: Making, made_at: datetime) -> PlannedBatch:
    """A making as it is planned: ready and use-by follow from when it is really made."""
    ready_from, use_by = ready_and_use_by(recipe, made_at)
    return PlannedBatch(
        id=batch_id,
        recipe=recipe.id,
        kind=recipe.kind.value,
        amount_kg=making.kg,
        make_by=making.make_by,
        ready_from=ready_from,
        use_by=use_by,
        loads=making.loads,
    )


def _between(grid: Grid, first: int, last: int) -> Flags:
    allowed = np.zeros(grid.slots, dtype=np.bool_)
    allowed[max(0, first) : max(0, last + 1)] = True
    return allowed
