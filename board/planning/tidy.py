"""Small repairs a solver leaves undone: no rest longer than it must be, no fire longer than its meat."""

from dataclasses import replace

from board.planning.occupancy import Fit, Occupancy
from board.planning.problem import Assignment, Placed, Problem, on_slot
from board.planning.run import Run


def tidy(problem: Problem, plan: Assignment) -> Assignment:
    """The same plan with each fire trimmed to its meat and each rest cut to the shortest the hold allows."""
    runs = {pit: tuple(_trimmed(problem, pit, run, plan) for run in runs) for pit, runs in plan.runs.items()}
    placed = dict(plan.placed)
    for part in problem.parts:
        at = placed.get(part.id)
        if at is not None and at.rest > part.rest_min:
            placed[part.id] = _shorter(problem, Assignment(placed, runs), part.id)
    return Assignment(placed, runs)


def _trimmed(problem: Problem, pit: str, run: Run, plan: Assignment) -> Run:
    ends = [
        on_slot(part, at) + at.mode.d90
        for part in problem.parts
        if (at := plan.placed.get(part.id)) and at.mode.pit == pit and run.begin <= at.start < run.end
    ]
    ends += [known.end for known in problem.frame.taken.runs[pit] if known.begin == run.begin]
    hot_next = any(r.chained and r.begin == run.end for r in plan.runs[pit])
    return run if hot_next or not ends else replace(run, end=max(ends))


def _shorter(problem: Problem, plan: Assignment, part_id: str) -> Placed:
    others = occupied(problem, plan, without=part_id)
    part = next(p for p in problem.parts if p.id == part_id)
    at = plan.placed[part_id]
    spare = part.ready_by - on_slot(part, at) - at.mode.d50
    for rest in range(max(part.rest_min, spare - part.hold_max), at.rest):
        if isinstance(others.fit(part, replace(at, rest=rest)), Fit):
            return replace(at, rest=rest)
    return at


def occupied(problem: Problem, plan: Assignment, without: str | None = None) -> Occupancy:
    """A plan's parts laid out one by one, its fires as they are, one part left out if named."""
    occupancy = Occupancy(problem)
    for pit, runs in plan.runs.items():
        occupancy.burn(pit, runs)
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is not None and part.id != without:
            occupancy.place(part, Fit(at, plan.runs[at.mode.pit], 0.0))
    return occupancy
