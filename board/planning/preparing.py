"""The preparation of all loads together: who is short of hands goes first, and the walk-in is spared."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from board.house.model import StepRule
from board.planning.batches.covering import covers
from board.planning.batches.lying import Lying
from board.planning.batches.makings import recipe_kg
from board.planning.batches.pots import Pots
from board.planning.chain import Link, prep_links
from board.planning.part_making import outset_for
from board.planning.problem import Part, Placed, Problem
from board.planning.roster import Roster
from board.planning.walk_in import Stay, over_kg_minutes

# Orders in which hands are given to the loads, at most.
_ORDERS_MOST = 5

Meat = Sequence[tuple[Part, Placed]]


@dataclass(frozen=True)
class Prepared:
    """The preparation of loads by part, and the roster and the containers after it.

    Nobody does `bare` of them in full, `crowded` lie in more containers than stand empty.
    """

    links: dict[str, list[Link]]
    roster: Roster
    bare: frozenset[str]
    over_kg_minutes: float
    pots: Pots
    crowded: frozenset[str] = frozenset()


def prepared(
    problem: Problem, meat: Meat, roster: Roster, waiting: Sequence[Stay], pots: Pots | None = None
) -> Prepared:
    """The preparation of these loads with the fewest that lack hands, then containers, then room kept cold.

    Loads get hands in the order in which they go on. Where some find none they are asked first, as are those
    that find no container; where the walk-in is over full the heaviest are, so that they come in last.

    Args:
        waiting: raw meat that is in the walk-in already.
        pots: what the house's containers are taken for already.
    """
    order = sorted(meat, key=lambda pair: pair[1].start)
    pots = pots or Pots(problem.frame.house, problem.frame.grid)
    best = tried = _in_order(problem, order, roster, waiting, pots)
    for _ in range(_ORDERS_MOST - 1):
        if not tried.bare and not tried.crowded and not tried.over_kg_minutes:
            break
        again = _reordered(order, tried)
        if again == order:
            break
        order = again
        tried = _in_order(problem, order, roster, waiting, pots)
        best = min(best, tried, key=lambda one: (len(one.bare), len(one.crowded), one.over_kg_minutes))
    return best


def _reordered(order: Meat, tried: Prepared) -> list[tuple[Part, Placed]]:
    """Those that lack hands first, or else a container; where none does, the heaviest."""
    if lacking := tried.bare or tried.crowded:
        return sorted(order, key=lambda pair: pair[0].id not in lacking)
    return sorted(order, key=lambda pair: -_kg(pair[0]))


def _in_order(problem: Problem, order: Meat, roster: Roster, waiting: Sequence[Stay], pots: Pots) -> Prepared:
    after, left, house = roster.copy(), pots.copy(), problem.frame.house
    lying = {part.id: Lying(house, part, left) for part, _ in order}
    links = {
        part.id: prep_links(part, at, after, outset_for(problem.frame, part.share), lying[part.id])
        for part, at in order
    }
    bare = frozenset(
        part for part, chain in links.items() if any(after.who(link.job) is None for link in chain)
    )
    stays = [stay for part, at in order for stay in _stays(problem, part, at, links[part.id])]
    crowded = frozenset(part for part, asked in lying.items() if asked.lacked)
    return Prepared(links, after, bare, over_kg_minutes(house, [*waiting, *stays]), left, crowded)


def _stays(problem: Problem, part: Part, at: Placed, links: Sequence[Link]) -> Iterator[Stay]:
    moment = problem.frame.grid.moment
    begins = [*(link.begin for link in links), at.start]
    for rule, link, (_, until) in zip(part.need.cut.prep, links, pairwise(begins), strict=True):
        done = link.begin + link.slots
        if rule.chilled and done < until:
            yield Stay(moment(done), moment(until), _kg(part) + _brine_kg(problem, part, rule))


def _kg(part: Part) -> float:
    return part.pieces * part.need.cut.mass_kg.usual


def _brine_kg(problem: Problem, part: Part, rule: StepRule) -> float:
    """What the brine it lies in takes of the walk-in beside it, where that is known."""
    recipe = problem.frame.house.recipes.get(rule.recipe or "")
    return recipe_kg(problem.frame.house, recipe.id, part) if recipe and covers(recipe) else 0.0
