"""The chain of one load: its preparation counted back from loading, its finish counted on to the plate."""

from dataclasses import dataclass

import numpy as np

from board.house.model import StepRule
from board.planning.batches.lying import Lying
from board.planning.crew import Flags
from board.planning.grid import Grid, step_slots
from board.planning.problem import Part, Placed, off_slot, on_slot
from board.planning.roster import Roster
from board.planning.windows import Outset, gap_slots, prep_starts


@dataclass(frozen=True)
class Link:
    """One step of a chain on the grid: what, when, the roster's job for it, and the recipe used."""

    what: str
    begin: int
    slots: int
    minutes: float
    job: int
    recipe: str | None = None


def pit_links(part: Part, at: Placed, roster: Roster) -> list[Link]:
    """Loading, wrapping and pulling, at the times the plan gives them."""
    cut, on, off = part.need.cut, on_slot(part, at), off_slot(part, at)
    timed = [
        ("load", at.start, part.load, cut.load_work.minutes(part.pieces)),
        ("pull", off, part.pull, cut.pull_work.minutes(part.pieces)),
    ]
    if at.mode.wrap is not None and cut.wrap is not None:
        timed.insert(1, ("wrap", on + at.mode.wrap, part.wrap, cut.wrap.work.minutes(part.pieces)))
    return [
        Link(what, begin, slots, minutes, roster.give(what, begin, slots))
        for what, begin, slots, minutes in timed
    ]


def prep_links(
    part: Part, at: Placed, roster: Roster, outset: Outset, lying: Lying | None = None
) -> list[Link]:
    """The preparation, each step as late as its gaps, the shifts and free hands allow.

    A step goes earlier where a step before it finds nobody otherwise. One that nobody can do at any time it
    may be done keeps its usual time, and its job is nobody's.

    Args:
        lying: for meat that lies in what a step covers it with: when its containers stand empty.
    """
    prep = part.need.cut.prep
    starts = _reachable(part, at, roster, outset)
    links: list[Link] = []
    next_begin = at.start
    for rule, begins in zip(reversed(prep), reversed(starts[:-1]), strict=True):
        minutes = rule.work.minutes(part.pieces)
        slots = step_slots(minutes)
        shortest, longest = gap_slots(rule, part.pieces)
        window = np.zeros_like(begins)
        first, last = max(0, next_begin - slots - longest), next_begin - slots - shortest
        window[first : last + 1] = begins[first : last + 1]
        roomy = window & lying.free_until(rule, next_begin) if lying else window
        begin = roster.latest(rule.what, slots, roomy, last)
        if begin is None and not np.array_equal(roomy, window):
            begin = roster.latest(rule.what, slots, window, last)
        kept = begin if begin is not None else int(np.flatnonzero(window)[-1]) if window.any() else last
        links.append(
            Link(rule.what, kept, slots, minutes, _job(roster, rule, begin, kept, slots), rule.recipe)
        )
        if lying:
            lying.take(rule, kept, next_begin)
        next_begin = kept
    return links[::-1]


def _reachable(part: Part, at: Placed, roster: Roster, outset: Outset) -> list[Flags]:
    """When each step may begin so that all find hands: as they are free, else were work given to others."""
    prep = part.need.cut.prep
    for crew in (roster.tight(), roster.loose()):
        starts = prep_starts(prep, part.pieces, crew, outset)
        if starts[-1][at.start]:
            return starts
    return prep_starts(prep, part.pieces, roster.crew, outset)


def finish_links(part: Part, at: Placed, roster: Roster, grid: Grid) -> list[Link]:
    """The work between the hold and the plate, back from the need, no sooner than rested."""
    links: list[Link] = []
    rested, work = off_slot(part, at) + part.rest_min, [_slots(rule, part.pieces) for rule in part.finish]
    needed = grid.floor(part.share.first.at)
    end = max(needed, rested + sum(work))
    late = end > needed
    for n, rule in reversed(list(enumerate(part.finish))):
        slots, minutes, first = work[n], rule.work.minutes(part.pieces), rested + sum(work[:n])
        allowed = np.zeros(grid.slots, dtype=np.bool_)
        allowed[first : max(first, end - slots) + 1] = True
        begin = roster.latest(rule.what, slots, allowed, end - slots)
        if begin is None and late:
            begin = roster.soonest(rule.what, slots, end - slots)
        kept = begin if begin is not None else end - slots
        links.append(
            Link(rule.what, kept, slots, minutes, _job(roster, rule, begin, kept, slots), rule.recipe)
        )
        end = min(end, kept)
    return links[::-1]


def _job(roster: Roster, rule: StepRule, begin: int | None, kept: int, slots: int) -> int:
    """Somebody's job where there is a time for it, else nobody's."""
    return roster.leave(rule.what, kept, slots) if begin is None else roster.give(rule.what, begin, slots)


def _slots(rule: StepRule, pieces: int) -> int:
    return step_slots(rule.work.minutes(pieces))
