"""What a plan gives up, thing by thing: the sum the search makes least, taken apart."""

from dataclasses import fields

from board.planning.plan import CostParts
from board.planning.problem import (
    Assignment,
    Part,
    Placed,
    Problem,
    held_points,
    late_points,
    moved_points,
    part_points,
    run_points,
    thin_points,
)
from board.planning.run import Run


def cost_parts(problem: Problem, solution: Assignment) -> CostParts:
    """The cost of a solution by what it is for; together the points of `problem.points`."""
    shares = [part_costs(problem, part, solution.placed.get(part.id)) for part in problem.parts]
    shares += [run_costs(problem, pit, run) for pit, runs in solution.runs.items() for run in runs]
    return summed(shares)


def part_costs(problem: Problem, part: Part, at: Placed | None) -> CostParts:
    """What one part costs where it is placed, or unserved."""
    if at is None:
        return CostParts(unserved=part_points(problem, part, None))
    return CostParts(
        late=late_points(problem, part, at),
        thin=thin_points(problem, part, at),
        held=held_points(problem, part, at),
        work=at.mode.work_points,
        moved=moved_points(problem, part, at.mode, at.start),
    )


def run_costs(problem: Problem, pit: str, run: Run) -> CostParts:
    """What one run of a pit costs."""
    room, slots = problem.frame.pits[pit], run.end - run.begin
    return CostParts(
        fuel=float((room.fuel_points - room.tend_points) * slots),
        tending=float(room.tend_points * slots),
        fires=run_points(problem, pit, run) - room.fuel_points * slots,
    )


def summed(parts: list[CostParts]) -> CostParts:
    """Several costs together, thing by thing."""
    return CostParts(
        **{f.name: float(sum(getattr(part, f.name) for part in parts)) for f in fields(CostParts)}
    )
