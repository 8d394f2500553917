"""Ask CP-SAT for the best plan, starting from a known one."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from board.planning.core.scheduling import Scheduling
from board.planning.core.search import Effort, search
from board.planning.problem import Assignment, Part, Placed, Problem, easy_slots, off_slot, on_slot
from board.planning.run import Run
from board.planning.solver import rules, sharing
from board.planning.solver.cost import cost_of
from board.planning.solver.variables import PartVars, PlanVars, RunVars, declare


@dataclass(frozen=True)
class Found:
    """The best plan found, what no plan can beat, whether the two met, and the seconds of work it took."""

    solution: Assignment | None
    bound: float
    proved: bool
    worked: float = 0.0


def solve(
    problem: Problem,
    hint: Assignment | None,
    *,
    seconds: float,
    seed: int,
    workers: int = 2,
    better: Callable[[float, float], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Found:
    """Search for about so many seconds, counted as work.

    Args:
        hint: a plan to start from.
        workers: ways of searching, taken in turn; one alone keeps to its seconds most closely.
        better: told (points, bound) at each better plan, in a solver thread.
        stop: asked ten times a second; when true the best plan so far is what is found.
    """
    plan = Scheduling(problem.frame.grid.slots)
    v = declare(plan, problem)
    _post(problem, v)
    if hint is not None:
        _hint(plan.model, problem, v, _mirrored(problem, hint))
    told = None if better is None else _in_points(better)
    found = search(plan.model, Effort(seconds, seed, workers, told, stop))
    bound = max(0.0, found.bound / 10)
    if not found.found:
        return Found(None, bound, proved=False, worked=found.worked)
    return Found(_read(found.solver, v), bound, proved=found.proved and v.all_runs, worked=found.worked)


def _post(problem: Problem, v: PlanVars) -> None:
    rules.each_part_cooks_once_or_is_dropped(v)
    rules.rest_then_hold_until_ready(problem, v)
    rules.a_part_cooks_within_a_run_at_its_setpoint(problem, v)
    rules.runs_of_a_pit_follow_each_other(problem, v)
    rules.a_fire_burns_long_enough_for_its_meat(problem, v)
    rules.parts_of_one_need_keep_their_order(v)
    sharing.a_pit_holds_no_more_than_its_area(problem, v)
    sharing.raw_birds_never_lie_above_other_meat(problem, v)
    sharing.bench_and_hold_have_room(problem, v)
    sharing.hands_are_enough_and_no_fire_burns_while_its_pit_is_shut(problem, v)
    cost_of(problem, v)


def _in_points(better: Callable[[float, float], None]) -> Callable[[float, float], None]:
    return lambda cost, bound: better(cost / 10, bound / 10)


def _mirrored(problem: Problem, plan: Assignment) -> Assignment:
    """The same plan with parts that differ in nothing in the order the rules ask of them."""
    placed = dict(plan.placed)
    for alike in rules.rows_of_alike(problem.parts):
        ways = [(p.modes.index(placed[p.id].mode), placed.pop(p.id)) for p in alike if p.id in placed]
        ways.sort(key=lambda way: way[1].start)
        for part, (mode, at) in zip(alike, ways, strict=False):
            placed[part.id] = replace(at, mode=part.modes[mode])
    return Assignment(placed, plan.runs)


def _hint(model: cp_model.CpModel, problem: Problem, v: PlanVars, plan: Assignment) -> None:
    for c in v.parts:
        at = plan.placed.get(c.part.id)
        model.add_hint(c.dropped, at is None)
        if at is not None:
            _hint_part(model, problem, c, at)
    for pit, runs in plan.runs.items():
        for run, known in zip(v.runs[pit], runs, strict=False):
            _hint_run(model, run, known)
        for unused in v.runs[pit][len(runs) :]:
            model.add_hint(unused.used, False)
    _hint_within(model, v, plan)


def _hint_part(model: cp_model.CpModel, problem: Problem, c: PartVars, at: Placed) -> None:
    for here, mode in zip(c.here, c.part.modes, strict=False):
        if len(c.here) > 1 and not isinstance(here, bool):
            model.add_hint(here, mode is at.mode)
    model.add_hint(c.start, at.start)
    model.add_hint(c.off, off_slot(c.part, at))
    model.add_hint(c.rest, at.rest)
    model.add_hint(c.hold, max(0, c.part.wait_until - off_slot(c.part, at) - at.rest))
    model.add_hint(c.rested, off_slot(c.part, at) + at.rest)
    model.add_hint(c.plated, max(off_slot(c.part, at) + at.rest, c.part.wait_until))
    late = off_slot(c.part, at) + c.part.rest_min - c.part.ready_by
    model.add_hint(c.late, max(0, late))
    model.add_hint(c.is_late, late > 0)
    model.add_hint(c.thin, max(0, late + at.mode.dq - at.mode.d50))
    model.add_hint(c.over, max(0, -late - easy_slots(problem, c.part)))


def _hint_run(model: cp_model.CpModel, run: RunVars, known: Run) -> None:
    model.add_hint(run.used, True)
    model.add_hint(run.begin, known.begin)
    model.add_hint(run.end, known.end)
    model.add_hint(run.length, known.end - known.begin)
    model.add_hint(run.chained, known.chained)
    model.add_hint(run.known, known.known)
    for setpoint, literal in run.at.items():
        model.add_hint(literal, setpoint == known.setpoint_c)


def _hint_within(model: cp_model.CpModel, v: PlanVars, plan: Assignment) -> None:
    for (i, m, r), literal in v.within.items():
        part = v.parts[i].part
        at, mode = plan.placed.get(part.id), part.modes[m]
        runs = plan.runs.get(mode.pit, ())
        here = at is not None and at.mode is mode and r < len(runs)
        model.add_hint(literal, bool(here and at and _holds(part, runs[r], at)))


def _holds(part: Part, run: Run, at: Placed) -> bool:
    end = on_slot(part, at) + at.mode.d90
    return run.begin <= at.start and end <= run.end and run.setpoint_c == at.mode.setpoint_c


def _read(solver: cp_model.CpSolver, v: PlanVars) -> Assignment:
    placed = {}
    for c in v.parts:
        for here, mode in zip(c.here, c.part.modes, strict=False):
            if solver.boolean_value(here):
                placed[c.part.id] = Placed(mode, solver.value(c.start), solver.value(c.rest))
    runs = {
        pit: tuple(_read_run(solver, run) for run in vars_ if solver.boolean_value(run.used))
        for pit, vars_ in v.runs.items()
    }
    return Assignment(placed, runs)


def _read_run(solver: cp_model.CpSolver, run: RunVars) -> Run:
    setpoint = next(s for s, literal in run.at.items() if solver.boolean_value(literal))
    chained, known = solver.boolean_value(run.chained), solver.boolean_value(run.known)
    return Run(solver.value(run.begin), solver.value(run.end), setpoint, chained, known)
