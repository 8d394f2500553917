"""The unknowns of the plan: where and when each part cooks, and when each pit burns."""

from dataclasses import dataclass
from functools import cached_property

from ortools.sat.python import cp_model

from board.planning.core.activity import Activity, Literal, Mode, starts_of
from board.planning.core.scheduling import Scheduling
from board.planning.problem import Part, PitRoom, Problem
from board.planning.solver.burning import runs_worth_having, setpoints_of

# A pit is lit or brought to another setpoint at most this often in a plan.
RUNS_MOST = 6


@dataclass(frozen=True)
class PartVars:
    """One part: it cooks, in a mode that is a spot on a pit and a setpoint, or is `dropped` and unserved.

    off + rest = rested, rested + hold = plated, by its stays on the bench and in the hold.
    """

    part: Part
    cook: Activity
    dropped: cp_model.IntVar
    start: cp_model.IntVar
    off: cp_model.IntVar
    rest: cp_model.IntVar
    rested: cp_model.IntVar
    plated: cp_model.IntVar
    hold: cp_model.IntVar
    late: cp_model.IntVar
    thin: cp_model.IntVar
    over: cp_model.IntVar
    is_late: cp_model.IntVar

    @cached_property
    def served(self) -> cp_model.BoolVarT:
        """The part is cooked at all."""
        return self.dropped.negated()

    @property
    def here(self) -> tuple[Literal, ...]:
        """Which mode it cooks in."""
        return self.cook.here


@dataclass(frozen=True)
class RunVars:
    """One run of a pit: used or not, its ends, its setpoint.

    `chained` follows hot on the run before; `known` is a fire that burns or is decided already.
    """

    used: cp_model.IntVar
    begin: cp_model.IntVar
    end: cp_model.IntVar
    length: cp_model.IntVar
    chained: cp_model.IntVar
    known: cp_model.IntVar
    at: dict[float, cp_model.IntVar]


@dataclass(frozen=True)
class PlanVars:
    """All unknowns, and in which run each part begins to cook: `within[part, mode, run]`.

    `all_runs` tells that no pit could use more runs than it has here.
    """

    plan: Scheduling
    parts: tuple[PartVars, ...]
    runs: dict[str, tuple[RunVars, ...]]
    within: dict[tuple[int, int, int], cp_model.IntVar]
    all_runs: bool


def declare(plan: Scheduling, problem: Problem) -> PlanVars:
    """Create the unknowns of a problem in a model, with their domains."""
    parts = tuple(_part_vars(plan, problem, part) for part in problem.parts)
    worth = {key: runs_worth_having(problem, key) for key in problem.frame.pits}
    runs = {key: _pit_runs(plan.model, problem, key, min(RUNS_MOST, worth[key])) for key in worth}
    within = {
        (c, m, r): plan.model.new_bool_var(f"in[{c},{m},{r}]")
        for c, vars_ in enumerate(parts)
        for m, mode in enumerate(vars_.part.modes)
        if mode.starts
        for r in range(len(runs[mode.pit]))
    }
    return PlanVars(plan, parts, runs, within, max(worth.values(), default=0) <= RUNS_MOST)


def _part_vars(plan: Scheduling, problem: Problem, part: Part) -> PartVars:
    model, slots, name = plan.model, problem.frame.grid.slots, part.id
    dropped = model.new_bool_var(f"dropped[{name}]")
    modes = [
        Mode(part.load + mode.d90, {("spot", mode.spot): part.area_cm2}, mode.starts) for mode in part.modes
    ]
    modes = modes or [Mode(0, starts=())]
    start = model.new_int_var_from_domain(starts_of(modes, slots), f"start[{name}]")
    cook = plan.activity(name, modes, start=start, done=dropped.negated())
    return PartVars(
        part=part,
        cook=cook,
        dropped=dropped,
        start=start,
        off=model.new_int_var(0, slots, f"off[{name}]"),
        rest=model.new_int_var(part.rest_min, max(part.rest_min, part.rest_max), f"rest[{name}]"),
        rested=model.new_int_var(0, 2 * slots, f"rested[{name}]"),
        plated=model.new_int_var(0, 3 * slots, f"plated[{name}]"),
        hold=model.new_int_var(0, part.hold_max, f"hold[{name}]"),
        late=model.new_int_var(0, slots, f"late[{name}]"),
        thin=model.new_int_var(0, slots, f"thin[{name}]"),
        over=model.new_int_var(0, slots, f"over[{name}]"),
        is_late=model.new_bool_var(f"is_late[{name}]"),
    )


def _pit_runs(model: cp_model.CpModel, problem: Problem, pit: str, most: int) -> tuple[RunVars, ...]:
    known = problem.frame.taken.runs[pit]
    asked = {c for part in problem.parts for m in part.modes if m.pit == pit for c in setpoints_of(m)}
    setpoints = sorted(asked | {run.setpoint_c for run in known})
    return tuple(
        _run_vars(model, problem.frame.pits[pit], setpoints, problem.frame.grid.slots, r)
        for r in range(most + len(known))
    )


def _run_vars(
    model: cp_model.CpModel, room: PitRoom, setpoints: list[float], slots: int, number: int
) -> RunVars:
    name = f"{room.pit.id},{number}"
    return RunVars(
        used=model.new_bool_var(f"used[{name}]"),
        begin=model.new_int_var(0, slots, f"begin[{name}]"),
        end=model.new_int_var(0, slots, f"end[{name}]"),
        length=model.new_int_var(0, slots, f"length[{name}]"),
        chained=model.new_bool_var(f"chained[{name}]"),
        known=model.new_bool_var(f"known[{name}]"),
        at={s: model.new_bool_var(f"at[{name},{s}]") for s in setpoints},
    )
