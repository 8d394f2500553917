"""Whether a whole plan keeps every limit, by laying it out again."""

from board.planning.problem import Assignment, Part, Placed, Problem, holding, phases
from board.planning.run import Run
from board.planning.search.occupancy import Occupancy, Room
from board.planning.search.tidy import occupied


def is_sound(problem: Problem, plan: Assignment) -> bool:
    """Whether nothing is overdrawn or held too long, no bird lies above other meat, and every fire burns."""
    full = occupied(problem, plan)
    here = [(part, plan.placed[part.id]) for part in problem.parts if part.id in plan.placed]
    if any(full.dripping(part, at) or _waits_too_long(part, at) for part, at in here):
        return False
    return _within_limits(Occupancy(problem), full) and _all_hot(problem, plan)


def _waits_too_long(part: Part, at: Placed) -> bool:
    begin, end = holding(part, at)
    return end - begin > part.hold_max


def _within_limits(empty: Occupancy, full: Occupancy) -> bool:
    pairs: list[tuple[Room, Room]] = [
        (empty.bench_left, full.bench_left),
        (empty.hold_left, full.hold_left),
        (empty.attention_left, full.attention_left),
        *((empty.pit_left[spot], full.pit_left[spot]) for spot in empty.pit_left),
        *((empty.work[kinds], full.work[kinds]) for kinds in empty.work),
    ]
    return not any(((after < 0) & (after < before)).any() for before, after in pairs)


def _all_hot(problem: Problem, plan: Assignment) -> bool:
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is None:
            continue
        for phase in phases(part, at):
            if not any(
                _covers(run, phase.begin, phase.end, phase.setpoint_c) for run in plan.runs[at.mode.pit]
            ):
                return False
    return True


def _covers(run: Run, begin: int, end: int, setpoint_c: float) -> bool:
    return run.begin <= begin and end <= run.end and run.setpoint_c == setpoint_c
