"""Ask CP-SAT for the best plan, starting from a known one."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import dataclass

from ortools.sat.python import cp_model

from board.planning.problem import Assignment, Part, Placed, Problem, off_slot, on_slot
from board.planning.run import Run
from board.planning.solver import rules
from board.planning.solver.variables import PartVars, PlanVars, RunVars, declare

# The search is cut off by the solver's own count of work, so that the same question has the same answer on
# any machine: about this much of it is a second on two cores. The wall clock ends it only where a machine
# is many times slower.
_WORK_A_SECOND = 0.3
_WALL_SECONDS_EACH = 8.0


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
    model = cp_model.CpModel()
    v = declare(model, problem)
    _post(model, problem, v)
    if hint is not None:
        _hint(model, v, hint)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.interleave_search = workers > 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = seconds * _WORK_A_SECOND
    solver.parameters.max_time_in_seconds = max(5.0, seconds * _WALL_SECONDS_EACH)
    solver.parameters.catch_sigint_signal = False
    status = _searched(solver, model, _Told(better) if better else None, stop)
    worked = solver.response_proto.deterministic_time / _WORK_A_SECOND
    bound = solver.best_objective_bound / 10 if status != cp_model.INFEASIBLE else 0.0
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Found(None, max(0.0, bound), proved=False, worked=worked)
    return Found(_read(solver, v), bound, proved=status == cp_model.OPTIMAL, worked=worked)


def _post(model: cp_model.CpModel, problem: Problem, v: PlanVars) -> None:
    rules.each_part_cooks_once_or_is_dropped(model, v)
    rules.rest_then_hold_until_ready(model, problem, v)
    rules.a_part_cooks_within_a_run_at_its_setpoint(model, problem, v)
    rules.runs_of_a_pit_follow_each_other(model, problem, v)
    rules.a_pit_holds_no_more_than_its_area(model, problem, v)
    rules.a_fire_burns_long_enough_for_its_meat(model, problem, v)
    rules.bench_and_hold_have_room(model, problem, v)
    rules.hands_are_enough(model, problem, v)
    rules.parts_of_one_need_keep_their_order(model, v)
    rules.cost_of(model, problem, v)


def _searched(
    solver: cp_model.CpSolver,
    model: cp_model.CpModel,
    told: cp_model.CpSolverSolutionCallback | None,
    stop: Callable[[], bool] | None,
) -> cp_model.CpSolverStatus:
    """Search beside the calling thread, so that Ctrl-C there ends the search at once."""
    with ThreadPoolExecutor(max_workers=1) as beside:
        search = beside.submit(solver.solve, model, told)
        try:
            while not wait([search], timeout=0.1).done:
                if stop is not None and stop():
                    solver.stop_search()
        except KeyboardInterrupt:
            solver.stop_search()
            raise
        return search.result()


class _Told(cp_model.CpSolverSolutionCallback):
    """Passes each better plan's points and bound on."""

    def __init__(self, better: Callable[[float, float], None]) -> None:
        super().__init__()
        self._better = better

    def on_solution_callback(self) -> None:
        """Called by the solver at each better plan."""
        self._better(self.objective_value / 10, self.best_objective_bound / 10)


def _hint(model: cp_model.CpModel, v: PlanVars, plan: Assignment) -> None:
    for c in v.parts:
        at = plan.placed.get(c.part.id)
        model.add_hint(c.dropped, at is None)
        if at is not None:
            _hint_part(model, c, at)
    for pit, runs in plan.runs.items():
        for run, known in zip(v.runs[pit], runs, strict=False):
            _hint_run(model, run, known)
        for unused in v.runs[pit][len(runs) :]:
            model.add_hint(unused.used, False)
    _hint_within(model, v, plan)


def _hint_part(model: cp_model.CpModel, c: PartVars, at: Placed) -> None:
    for here, mode in zip(c.here, c.part.modes, strict=True):
        model.add_hint(here, mode is at.mode)
    model.add_hint(c.start, at.start)
    model.add_hint(c.off, off_slot(c.part, at))
    model.add_hint(c.rest, at.rest)
    model.add_hint(c.hold, max(0, c.part.wait_until - off_slot(c.part, at) - at.rest))


def _hint_run(model: cp_model.CpModel, run: RunVars, known: Run) -> None:
    model.add_hint(run.used, True)
    model.add_hint(run.begin, known.begin)
    model.add_hint(run.end, known.end)
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
        for here, mode in zip(c.here, c.part.modes, strict=True):
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
