"""Small repairs a solver leaves undone: rests and fires no longer than they must be."""

from collections.abc import Iterable
from dataclasses import replace

from board.planning.problem import Assignment, Part, Phase, Placed, Problem, off_slot, phases
from board.planning.run import Run
from board.planning.search.occupancy import Fit, Occupancy, lightings

Meat = list[tuple[Part, Placed]]


def tidy(problem: Problem, plan: Assignment) -> Assignment:
    """The same plan with fires cut to their meat and each rest cut to the shortest the hold allows."""
    left = occupied(problem, plan)
    for pit in plan.runs:
        trim(left, pit)
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is not None and at.rest > part.rest_min:
            _rest_less(left, part)
    return left.assignment()


def trim(left: Occupancy, pit: str) -> None:
    """Cut a pit's fires to the meat on it."""
    meat = list(left.meat[pit].values())
    left.burn(pit, _burnt_off(left.problem, pit, left.runs[pit], meat))
    _light_later(pit, left, meat)


def _asked_of(run: Run, meat: Meat) -> list[Phase]:
    """What meat asks of a run: the stretches at its setpoint that begin in it."""
    asked = (phase for part, at in meat for phase in phases(part, at))
    return [phase for phase in asked if run.begin <= phase.begin < run.end]


def _burnt_off(problem: Problem, pit: str, runs: tuple[Run, ...], meat: Meat) -> tuple[Run, ...]:
    """A pit's runs ended when their last meat is off; a run that never had any is not lit."""
    kept: list[Run] = []  # the last first
    for run in reversed(runs):
        ends = [phase.end for phase in _asked_of(run, meat)]
        ends += [known.end for known in problem.frame.taken.runs[pit] if known.begin == run.begin]
        after = kept[-1] if kept and kept[-1].chained and kept[-1].begin == run.end else None
        if after is None and ends:
            kept.append(replace(run, end=min(run.end, max(ends))))
        elif after is not None and not ends and _hot_without(problem, pit, (run, after), meat):
            kept[-1] = replace(after, begin=run.begin, chained=run.chained)
        elif after is not None:
            kept.append(run)
    return tuple(reversed(kept))


def _hot_without(problem: Problem, pit: str, runs: tuple[Run, Run], meat: Meat) -> bool:
    """Whether the second of two runs, begun where the first does, would be hot for its meat in time."""
    run, after = runs
    room = problem.frame.pits[pit]
    hot = run.begin + (room.change_over if run.chained else room.warm)
    return not after.known and all(phase.begin >= hot for phase in _asked_of(after, meat))


def _light_later(pit: str, left: Occupancy, meat: Meat) -> None:
    """Light a cold pit only as early as its first meat asks, where hands are free at that moment."""
    for run in left.runs[pit]:
        starts = [phase.begin for phase in _asked_of(run, meat)]
        latest = min(starts, default=run.begin) - left.problem.frame.pits[pit].warm
        if run.known or run.chained or latest <= run.begin:
            continue
        before = left.runs[pit]
        left.burn(pit, tuple(replace(r, begin=latest) if r is run else r for r in before))
        if not _has_hands(pit, left):
            left.burn(pit, before)


def _has_hands(pit: str, left: Occupancy) -> bool:
    rooms = [left.attention_left, *(room for kinds, room in left.work.items() if "light" in kinds)]
    lit = lightings(left.problem, pit, left.runs[pit], ())
    return all(room[task.begin : task.end].min() >= 0 for room in rooms for task in lit)


def _rest_less(left: Occupancy, part: Part) -> None:
    """Give a part the shortest rest after which the hold has room for it."""
    at = left.take_off(part)
    runs = left.runs[at.mode.pit]
    shortest = max(part.rest_min, part.wait_until - off_slot(part, at) - part.hold_max)
    for rest in range(shortest, at.rest):
        if left.has_room(part, replace(at, rest=rest)):
            at = replace(at, rest=rest)
            break
    left.place(part, Fit(at, runs, 0.0))


def occupied(
    problem: Problem, plan: Assignment, *, without: str | None = None, lifted: Iterable[str] = ()
) -> Occupancy:
    """A plan's parts laid out one by one, its fires as they are, one part left out if named."""
    occupancy = Occupancy(problem, frozenset(lifted))
    for pit, runs in plan.runs.items():
        occupancy.burn(pit, runs)
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is not None and part.id != without:
            occupancy.place(part, Fit(at, plan.runs[at.mode.pit], 0.0))
    return occupancy
