"""The batches a plan uses: the fewest makings of what its loads need, and the steps that make them."""

from collections.abc import Container, Sequence
from datetime import date

from board.batches.merge import BatchDemand, Window, fewest_makings
from board.batches.served import dose_kg
from board.house.model import House
from board.planning.batches.made import Given, Made
from board.planning.batches.pots import Pots, most_kg
from board.planning.grid import stretches
from board.planning.names import Names
from board.planning.plan import PlannedBatch
from board.planning.problem import Part, Problem
from board.planning.roster import Roster


def recipe_kg(house: House, recipe_id: str, part: Part) -> float:
    """Kilograms of a recipe that the pieces of a part take, by their raw mass or their surface."""
    cut = part.need.cut
    return dose_kg(house.recipes[recipe_id], cut, part.pieces, cut.mass_kg.usual)


def make_batches(
    problem: Problem,
    roster: Roster,
    day: date,
    demands: Sequence[BatchDemand],
    *,
    used: Container[str],
    pots: Pots | None = None,
) -> tuple[list[PlannedBatch], list[Given]]:
    """The fewest makings for what the loads use, each as late as someone is free; and their steps.

    Args:
        pots: what the house's containers are taken for; a making waits for those it needs where it can.
    """
    batches, names = [], Names(used)
    steps: list[Given] = []
    house = problem.frame.house
    pots = pots or Pots(house, problem.frame.grid)
    for making in fewest_makings(demands, house.recipes, _makeable(problem, roster), most_kg(house)):
        recipe = house.recipes[making.recipe]
        batch_id = names.new(f"{day:%m%d}-{recipe.id}")
        last = max(d.used_at for d in demands if d.recipe == recipe.id and d.load_id in making.loads)
        made = Made(problem, roster, pots, recipe, making, last)
        begin = made.begin()
        given = list(made.steps(batch_id, begin))
        batches.append(made.batch(batch_id, given[0][0]))
        steps += given
    return batches, steps


def _makeable(problem: Problem, roster: Roster) -> list[Window]:
    """Stretches of time, from now on, in which someone who makes batches is there and free."""
    free = roster.free("make", 1)
    free[: problem.frame.outset.earliest] = False
    moment = problem.frame.grid.moment
    return [(moment(begin), moment(begin + size)) for begin, size, on in stretches(free) if on]
