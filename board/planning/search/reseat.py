"""Move loads whose hands cannot be found: the solver counts hands, the roster needs people."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from board.planning.assemble import Laid
from board.planning.problem import Assignment, Part, Problem
from board.planning.search.insertion import cheapest_fit
from board.planning.search.tidy import occupied

# Starts this close to one that failed are not tried again, in slots.
_NEAR = 2


def bare_parts(laid: Laid) -> tuple[str, ...]:
    """The parts that have a step, or wait for a batch, with nobody to do it."""
    return tuple(dict.fromkeys(laid.parts[load].id for load in _bare_loads(laid)))


def _bare_loads(laid: Laid) -> Iterator[str]:
    batches = {batch.id: batch for batch in laid.batches}
    for step in laid.steps:
        if step.who is not None:
            continue
        if step.load is not None:
            yield step.load
        elif step.batch is not None and step.what == "make":
            yield batches[step.batch].loads[0]
        elif step.pit is not None:
            yield from (ld.id for ld in laid.loads if ld.pit == step.pit and ld.light_at == step.at)


def reseat(problem: Problem, plan: Assignment, part_ids: Iterable[str]) -> tuple[Problem, Assignment]:
    """The plan with these parts moved to their next best starts; one that finds none stays where it is."""
    for part_id in part_ids:
        part = next(p for p in problem.parts if p.id == part_id)
        moved = _without_start(part, plan.placed[part_id].start)
        occupancy = occupied(problem, plan, without=part_id)
        fit = cheapest_fit(occupancy, moved)
        if fit is not None:
            problem = replace(problem, parts=tuple(moved if p is part else p for p in problem.parts))
            occupancy.place(moved, fit)
            plan = occupancy.assignment()
    return problem, plan


def _without_start(part: Part, start: int) -> Part:
    def far(slot: int) -> bool:
        return abs(slot - start) > _NEAR

    modes = tuple(replace(mode, starts=tuple(filter(far, mode.starts))) for mode in part.modes)
    return replace(part, modes=modes)
