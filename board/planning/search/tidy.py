"""Small repairs a solver leaves undone: rests and fires no longer than they must be."""

from dataclasses import replace

from board.planning.problem import Assignment, Part, Placed, Problem, on_slot
from board.planning.run import Run
from board.planning.search.occupancy import Fit, Occupancy, lightings


def tidy(problem: Problem, plan: Assignment) -> Assignment:
    """The same plan with fires cut to their meat and each rest cut to the shortest the hold allows."""
    plan = Assignment(plan.placed, {pit: _burnt_off(problem, pit, plan) for pit in plan.runs})
    for pit in plan.runs:
        plan = _lit_later(problem, pit, plan)
    placed = dict(plan.placed)
    for part in problem.parts:
        at = placed.get(part.id)
        if at is not None and at.rest > part.rest_min:
            placed[part.id] = _shorter(problem, Assignment(placed, plan.runs), part.id)
    return Assignment(placed, plan.runs)


def _meat_in(problem: Problem, pit: str, run: Run, plan: Assignment) -> list[tuple[Part, Placed]]:
    here = [(p, plan.placed[p.id]) for p in problem.parts if p.id in plan.placed]
    return [(p, at) for p, at in here if at.mode.pit == pit and run.begin <= at.start < run.end]


def _burnt_off(problem: Problem, pit: str, plan: Assignment) -> tuple[Run, ...]:
    """A pit's runs ended when their last meat is off; a run that never had any is not lit."""
    runs, kept = plan.runs[pit], []
    for run in runs:
        ends = [on_slot(part, at) + at.mode.d90 for part, at in _meat_in(problem, pit, run, plan)]
        ends += [known.end for known in problem.frame.taken.runs[pit] if known.begin == run.begin]
        hot_next = any(r.chained and r.begin == run.end for r in runs)
        if ends or hot_next:
            kept.append(run if hot_next else replace(run, end=max(ends)))
    return tuple(kept)


def _lit_later(problem: Problem, pit: str, plan: Assignment) -> Assignment:
    """Light each cold pit only as early as its first meat asks, where hands are free at that moment."""
    for run in plan.runs[pit]:
        starts = [at.start for _, at in _meat_in(problem, pit, run, plan)]
        latest = min(starts, default=run.begin) - problem.frame.pits[pit].warm
        if run.known or run.chained or latest <= run.begin:
            continue
        runs = tuple(replace(r, begin=latest) if r is run else r for r in plan.runs[pit])
        moved = Assignment(plan.placed, plan.runs | {pit: runs})
        if _has_hands(problem, pit, moved):
            plan = moved
    return plan


def _has_hands(problem: Problem, pit: str, plan: Assignment) -> bool:
    left = occupied(problem, plan)
    rooms = [left.attention_left, *(room for kinds, room in left.work.items() if "light" in kinds)]
    lit = lightings(problem, pit, plan.runs[pit], ())
    return all(room[task.begin : task.end].min() >= 0 for room in rooms for task in lit)


def _shorter(problem: Problem, plan: Assignment, part_id: str) -> Placed:
    others = occupied(problem, plan, without=part_id)
    part = next(p for p in problem.parts if p.id == part_id)
    at = plan.placed[part_id]
    spare = part.wait_until - on_slot(part, at) - at.mode.d50
    for rest in range(max(part.rest_min, spare - part.hold_max), at.rest):
        if isinstance(others.fit(part, replace(at, rest=rest)), Fit):
            return replace(at, rest=rest)
    return at


def occupied(
    problem: Problem, plan: Assignment, *, without: str | None = None, lifted: frozenset[str] = frozenset()
) -> Occupancy:
    """A plan's parts laid out one by one, its fires as they are, one part left out if named."""
    occupancy = Occupancy(problem, lifted)
    for pit, runs in plan.runs.items():
        occupancy.burn(pit, runs)
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is not None and part.id != without:
            occupancy.place(part, Fit(at, plan.runs[at.mode.pit], 0.0))
    return occupancy
