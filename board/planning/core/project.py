"""A project as plain data, and its shortest or cheapest schedule."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python.cp_model import LinearExpr

from board.planning.core.activity import Activity, Mode, Whole
from board.planning.core.scheduling import Scheduling
from board.planning.core.search import Effort, search


@dataclass(frozen=True)
class Work:
    """An activity of a project: its modes, what each costs, and what leaving it out costs where it may be."""

    modes: tuple[Mode, ...]
    costs: tuple[int, ...] = ()
    skipped: int | None = None


@dataclass(frozen=True)
class Lag:
    """At least, and at most where said, so long from one work's start, or end, to another's start."""

    earlier: str
    later: str
    least: int
    most: int | None = None
    from_end: bool = False


@dataclass(frozen=True)
class Project:
    """Works, lags between them and the resources they share, each so much throughout or slot by slot."""

    works: Mapping[str, Work]
    resources: Mapping[str, int | NDArray[np.int64]]
    lags: Sequence[Lag] = ()
    horizon: int = 0


@dataclass(frozen=True)
class Schedule:
    """When each work that is done starts and ends, and in which of its modes; cost and its lower bound.

    `impossible` is a proof that there is none; `proved` that none is better.
    """

    spans: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    modes: Mapping[str, int] = field(default_factory=dict)
    cost: int | None = None
    bound: float = 0.0
    proved: bool = False
    impossible: bool = False


def shortest(project: Project, effort: Effort, hint: Schedule | None = None) -> Schedule:
    """The schedule of the least makespan and costs together."""
    plan = Scheduling(project.horizon)
    done = {name: _posted(plan, name, work) for name, work in project.works.items()}
    for lag in project.lags:
        _post_lag(plan, lag, done)
    for name, capacity in project.resources.items():
        plan.resource(name, capacity)
    makespan = plan.model.new_int_var(0, project.horizon, "makespan")
    for activity in done.values():
        plan.lag(activity.end, makespan, 0, when=[activity.done])
    plan.model.minimize(makespan + sum(_cost(project.works[name], a) for name, a in done.items()))
    if hint is not None:
        _hint(plan, done, hint)
    outcome = search(plan.model, effort)
    if not outcome.found:
        return Schedule(bound=outcome.bound, impossible=outcome.impossible)
    value = outcome.solver.value
    here = {n: [i for i, h in enumerate(a.here) if outcome.solver.boolean_value(h)] for n, a in done.items()}
    return Schedule(
        {name: (value(a.start), value(a.end)) for name, a in done.items() if here[name]},
        {name: chosen[0] for name, chosen in here.items() if chosen},
        round(outcome.solver.objective_value),
        outcome.bound,
        proved=outcome.proved,
    )


def _posted(plan: Scheduling, name: str, work: Work) -> Activity:
    done = True if work.skipped is None else plan.model.new_bool_var(f"done {name}")
    return plan.activity(name, work.modes, done=done)


def _post_lag(plan: Scheduling, lag: Lag, done: Mapping[str, Activity]) -> None:
    earlier, later = done[lag.earlier], done[lag.later]
    begin = earlier.end if lag.from_end else earlier.start
    plan.lag(begin, later.start, lag.least, lag.most, when=[earlier.done, later.done])


def _cost(work: Work, activity: Activity) -> Whole:
    chosen = LinearExpr.weighted_sum(list(activity.here), work.costs) if work.costs else 0
    return chosen if work.skipped is None else chosen + work.skipped * (1 - activity.done)


def _hint(plan: Scheduling, done: Mapping[str, Activity], hint: Schedule) -> None:
    for name, (start, _) in hint.spans.items():
        plan.hint(done[name], start, hint.modes[name])
