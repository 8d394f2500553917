"""The preparation of all loads together: who is short of hands goes first, and the walk-in is spared."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

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
    """The preparation of loads by part, and the roster after it; nobody does `bare` of them in full."""

    links: dict[str, list[Link]]
    roster: Roster
    bare: frozenset[str]
    over_kg_minutes: float


def prepared(problem: Problem, meat: Meat, roster: Roster, waiting: Sequence[Stay]) -> Prepared:
    """The preparation of these loads with the fewest that lack hands, and then the least over the walk-in.

    Loads get hands in the order in which they go on. Where some find none they are asked first; where the
    walk-in is over full the heaviest are, so that they come in last.

    Args:
        waiting: raw meat that is in the walk-in already.
    """
    order = sorted(meat, key=lambda pair: pair[1].start)
    best = tried = _in_order(problem, order, roster, waiting)
    for _ in range(_ORDERS_MOST - 1):
        if not tried.bare and not tried.over_kg_minutes:
            break
        again = _reordered(order, tried)
        if again == order:
            break
        order = again
        tried = _in_order(problem, order, roster, waiting)
        best = min(best, tried, key=lambda one: (len(one.bare), one.over_kg_minutes))
    return best


def _reordered(order: Meat, tried: Prepared) -> list[tuple[Part, Placed]]:
    """Those that lack hands first; where none does, the heaviest."""
    if tried.bare:
        return sorted(order, key=lambda pair: pair[0].id not in tried.bare)
    return sorted(order, key=lambda pair: -_kg(pair[0]))


def _in_order(problem: Problem, order: Meat, roster: Roster, waiting: Sequence[Stay]) -> Prepared:
    after = roster.copy()
    links = {
        part.id: prep_links(part, at, after, outset_for(problem.frame, part.share)) for part, at in order
    }
    bare = frozenset(
        part for part, chain in links.items() if any(after.who(link.job) is None for link in chain)
    )
    stays = [stay for part, at in order for stay in _stays(problem, part, at, links[part.id])]
    return Prepared(links, after, bare, over_kg_minutes(problem.frame.house, [*waiting, *stays]))


def _stays(problem: Problem, part: Part, at: Placed, links: Sequence[Link]) -> Iterator[Stay]:
    moment = problem.frame.grid.moment
    begins = [*(link.begin for link in links), at.start]
    for rule, link, (_, until) in zip(part.need.cut.prep, links, pairwise(begins), strict=True):
        done = link.begin + link.slots
        if rule.chilled and done < until:
            yield Stay(moment(done), moment(until), _kg(part))


def _kg(part: Part) -> float:
    return part.pieces * part.need.cut.mass_kg.usual
