"""What no plan can beat: a time-indexed relaxation, solved as a linear program.

Starts are gathered in buckets at the cheapest start of each; room and fire are asked for only at the
buckets' edges, where the meat is on the pit for certain; crew, bench and hold are let go. So the
optimum lies below every plan's cost. After the time-indexed formulations of single-machine scheduling
(Sousa and Wolsey 1992, Mathematical Programming 54:353, from memory).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ortools.linear_solver.python import model_builder as lp

from board.planning.problem import Mode, Part, Placed, Problem, part_points

# Slots in a bucket: three quarters of an hour. Finer is dearer to solve and hardly higher.
BUCKET = 9
# The simplex stops within this share of its optimum.
_TOLERANCE = 1e-6


@dataclass(frozen=True)
class Choice:
    """Starting a part in a bucket of one mode: its cheapest points, and when it is surely on the pit."""

    part: int
    pit: str
    setpoint_c: float
    points: float
    on_from: int
    on_until: int


def lower_bound(problem: Problem) -> float:
    """Points that every plan of the problem costs at least; 0 when the program is not solved."""
    choices = [c for i, part in enumerate(problem.parts) for c in _choices(problem, i, part)]
    model = lp.Model()  # type: ignore[no-untyped-call]
    chosen = [model.new_num_var(0.0, 1.0, "x") for _ in choices]
    cost: list[lp.LinearExprT] = [c.points * x for c, x in zip(choices, chosen, strict=True)]
    for i, part in enumerate(problem.parts):
        dropped = model.new_num_var(0.0, 1.0, "dropped")
        cost.append(problem.frame.weights.unserved_portion * part.worth * dropped)
        model.add(
            lp.LinearExpr.sum([x for c, x in zip(choices, chosen, strict=True) if c.part == i]) + dropped
            == 1.0
        )
    for pit in problem.frame.pits:
        here = [(c, x) for c, x in zip(choices, chosen, strict=True) if c.pit == pit]
        cost += _fire(model, problem, pit, here)
    model.minimize(lp.LinearExpr.sum(cost))
    solver = lp.Solver("GLOP")
    if solver.solve(model) != lp.SolveStatus.OPTIMAL:
        return 0.0
    return max(0.0, solver.objective_value * (1 - _TOLERANCE))


def _choices(problem: Problem, index: int, part: Part) -> Iterator[Choice]:
    for mode in part.modes:
        buckets: dict[int, list[int]] = {}
        for start in mode.starts:
            buckets.setdefault(start // BUCKET, []).append(start)
        for starts in buckets.values():
            yield Choice(
                part=index,
                pit=mode.pit,
                setpoint_c=mode.setpoint_c,
                points=min(_points(problem, part, mode, s) for s in starts),
                on_from=starts[-1],
                on_until=starts[0] + part.load + mode.d90,
            )


def _points(problem: Problem, part: Part, mode: Mode, start: int) -> float:
    return part_points(problem, part, Placed(mode, start, part.rest_min))


def _fire(
    model: lp.Model, problem: Problem, pit: str, here: list[tuple[Choice, lp.Variable]]
) -> list[lp.LinearExprT]:
    """Room, setpoint and fuel of one pit at the buckets' edges; returns what its fire costs."""
    room = problem.frame.pits[pit]
    ways = (
        problem.frame.weights.lighting + room.warm * room.fuel_points,
        problem.frame.weights.change_over + room.change_over * room.fuel_points,
    )
    # a run that spans n edges burns at least (n - 1) buckets and a slot, after its warm-up
    begin = min(ways) - (BUCKET - 1) * room.fuel_points
    burn = max(0.0, BUCKET * room.fuel_points + min(0.0, begin))
    on = [e for c, _ in here for e in _edges(c)]
    cost: list[lp.LinearExprT] = []
    before: dict[float, lp.Variable] = {}
    for edge in range(min(on, default=0), max(on, default=-1) + 1, BUCKET):
        lit = {s: model.new_num_var(0.0, 1.0, "lit") for s in sorted({c.setpoint_c for c, _ in here})}
        model.add(lp.LinearExpr.sum(list(lit.values())) <= 1.0)
        for setpoint, burning in lit.items():
            began = model.new_num_var(0.0, 1.0, "began")
            model.add(began >= burning - before.get(setpoint, 0.0))
            cost += [burn * burning, max(0.0, begin) * began]
            _meat(model, problem, room.area_cm2, burning, [h for h in here if _is_on(h[0], setpoint, edge)])
        before = lit
    return cost


def _meat(
    model: lp.Model,
    problem: Problem,
    room_cm2: int,
    burning: lp.Variable,
    on: list[tuple[Choice, lp.Variable]],
) -> None:
    if not on:
        return
    areas = [problem.parts[c.part].area_cm2 * x for c, x in on]
    model.add(lp.LinearExpr.sum(areas) <= room_cm2 * burning)
    by_part: dict[int, list[lp.Variable]] = {}
    for choice, x in on:
        by_part.setdefault(choice.part, []).append(x)
    for chosen in by_part.values():
        model.add(lp.LinearExpr.sum(chosen) <= burning)


def _edges(choice: Choice) -> range:
    first = -(-choice.on_from // BUCKET) * BUCKET
    return range(first, choice.on_until, BUCKET)


def _is_on(choice: Choice, setpoint_c: float, edge: int) -> bool:
    return choice.setpoint_c == setpoint_c and choice.on_from <= edge < choice.on_until
