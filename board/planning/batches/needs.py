"""What a plan must still make: what its loads use, less what stands; and the containers that leaves."""

from collections.abc import Sequence

from board.batches.merge import BatchDemand
from board.house.model import House
from board.planning.batches.containers import fillings
from board.planning.batches.makings import recipe_kg
from board.planning.batches.pots import Pots
from board.planning.batches.stock import Stock
from board.planning.chain import Link
from board.planning.plan import Plan
from board.planning.problem import Part, Placed, Problem
from board.planning.standing import Standing


def pots_beside(problem: Problem, beside: Standing) -> Pots:
    """What the containers are taken for by all that stands."""
    house, grid = problem.frame.house, problem.frame.grid
    pots = Pots(house, grid)
    for one in fillings(house, beside.loads, beside.steps, beside.batches, beside.draws):
        if one.container in house.containers:
            pots.take(one.container, one.count, grid.floor(one.since), grid.ceil(one.until))
    return pots


def stock_of(house: House, beside: Standing, named: set[str], before: Plan | None) -> Stock:
    """What is left of the batches that stand; loads planned before and not begun are planned anew."""
    anew = named - {load.id for load in beside.loads} - beside.lost
    loads = (*beside.loads, *(before.loads if before else ()))
    return Stock(house, beside, anew, {load.id: load for load in loads})


def to_make(
    problem: Problem,
    here: Sequence[tuple[Part, Placed]],
    ids: dict[str, str],
    chains: dict[str, list[Link]],
    stock: Stock,
) -> list[BatchDemand]:
    """What must be made: what the loads use, less what was made for them, or what a batch has left."""
    house, grid, rest = problem.frame.house, problem.frame.grid, []
    for part, _ in here:
        for link in chains[part.id]:
            if link.recipe is not None:
                load, at = ids[part.id], grid.moment(link.begin)
                was = next((b.loads[0] for b in part.share.made if b.recipe == link.recipe), load)
                kg = stock.take(link.recipe, load, recipe_kg(house, link.recipe, part), at, was)
                rest.append(BatchDemand(link.recipe, load, kg, at))
    stock.free()
    rest.sort(key=lambda demand: (demand.used_at, demand.load_id))
    return [d for d in rest if d.kg > 0 and not stock.take_spare(d.recipe, d.load_id, d.kg, d.used_at)]
