"""Let CP-SAT search a model: so much work, one seed, the same answer on any machine."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import dataclass

from ortools.sat.python import cp_model

# The search is cut off by the solver's own count of work, so that the same question has the same answer on
# any machine: about this much of it is a second on two cores. The wall clock ends it only where a machine
# is many times slower.
_WORK_A_SECOND = 0.3
_WALL_SECONDS_EACH = 8.0


@dataclass(frozen=True)
class Effort:
    """How long to search, in seconds counted as work, and how.

    `workers` are ways of searching, taken in turn; one alone keeps to its seconds most closely. `better` is
    told (cost, bound) at each better solution, in a solver thread; `stop` is asked ten times a second. With
    `first` the first solution will do.
    """

    seconds: float
    seed: int = 0
    workers: int = 2
    better: Callable[[float, float], None] | None = None
    stop: Callable[[], bool] | None = None
    first: bool = False


@dataclass(frozen=True)
class Outcome:
    """What a search ended with; `bound` is what no solution can be below, `worked` the seconds of work."""

    solver: cp_model.CpSolver
    found: bool
    proved: bool
    impossible: bool
    bound: float
    worked: float


def search(model: cp_model.CpModel, effort: Effort) -> Outcome:
    """Search a model for its cheapest solution until it is proved or the effort is spent."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = effort.workers
    solver.parameters.interleave_search = effort.workers > 1
    solver.parameters.interleave_batch_size = effort.workers  # larger ones look at the work done too seldom
    solver.parameters.random_seed = effort.seed
    solver.parameters.max_deterministic_time = effort.seconds * _WORK_A_SECOND
    solver.parameters.max_time_in_seconds = max(5.0, effort.seconds * _WALL_SECONDS_EACH)
    solver.parameters.catch_sigint_signal = False
    solver.parameters.stop_after_first_solution = effort.first
    status = _searched(solver, model, effort)
    return Outcome(
        solver,
        found=status in (cp_model.OPTIMAL, cp_model.FEASIBLE),
        proved=status in (cp_model.OPTIMAL, cp_model.INFEASIBLE),
        impossible=status == cp_model.INFEASIBLE,
        bound=0.0 if status == cp_model.INFEASIBLE else solver.best_objective_bound,
        worked=solver.response_proto.deterministic_time / _WORK_A_SECOND,
    )


def _searched(solver: cp_model.CpSolver, model: cp_model.CpModel, effort: Effort) -> cp_model.CpSolverStatus:
    """Search beside the calling thread, so that Ctrl-C there ends the search at once."""
    told = _Told(effort.better) if effort.better else None
    with ThreadPoolExecutor(max_workers=1) as beside:
        searching = beside.submit(solver.solve, model, told)
        try:
            while not wait([searching], timeout=0.1).done:
                if effort.stop is not None and effort.stop():
                    solver.stop_search()
        except KeyboardInterrupt:
            solver.stop_search()
            raise
        return searching.result()


class _Told(cp_model.CpSolverSolutionCallback):
    """Passes each better solution's cost and bound on."""

    def __init__(self, better: Callable[[float, float], None]) -> None:
        super().__init__()
        self._better = better

    def on_solution_callback(self) -> None:
        """Called by the solver at each better solution."""
        self._better(self.objective_value, self.best_objective_bound)
