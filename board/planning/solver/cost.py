"""What a plan costs, as the solver sums it: the points of `problem.points` in whole tenths."""

from ortools.sat.python import cp_model

from board.planning.grid import SLOT_MINUTES
from board.planning.problem import SAME_SETPOINT_K, Problem
from board.planning.solver.variables import PartVars, PlanVars

Terms = list[cp_model.LinearExprT]


def cost_of(problem: Problem, v: PlanVars) -> None:
    """Minimise unserved, late, thin, over-held and moved parts, fuel and lighting."""
    terms = [term for c in v.parts for term in (*_part(problem, c), *_moved(problem, v, c))]
    v.plan.model.minimize(sum((*terms, *_fires(problem, v))))


def _part(problem: Problem, c: PartVars) -> Terms:
    w, worth = problem.frame.weights, c.part.worth
    return [
        tenths(w.unserved_portion * worth) * c.dropped,
        tenths(w.late_portion * worth) * c.is_late,
        tenths(w.late_portion_minute * worth * SLOT_MINUTES) * c.late,
        tenths(w.thin_portion_minute * worth * SLOT_MINUTES) * c.thin,
        tenths(w.hold_portion_minute * worth * SLOT_MINUTES) * c.over,
        tenths(c.part.wait_points) * c.served,
        *(tenths(m.work_points) * here for here, m in zip(c.here, c.part.modes, strict=False)),
    ]


def _moved(problem: Problem, v: PlanVars, c: PartVars) -> Terms:
    """What leaving its place in a committed plan costs: for going at all, for another pit, by the minute."""
    there, model, w = c.part.kept, v.plan.model, problem.frame.weights
    if there is None:
        return []
    same = [
        here
        for here, mode in zip(c.here, c.part.modes, strict=False)
        if mode.pit == there.pit and abs(mode.setpoint_c - there.setpoint_c) < SAME_SETPOINT_K
    ]
    stays = model.new_bool_var(f"stays[{c.part.id}]")
    away = model.new_int_var(0, v.plan.horizon, f"away[{c.part.id}]")
    model.add_bool_or(*same, stays.negated())
    model.add(c.start == there.start).only_enforce_if(stays)
    model.add(away >= c.start - there.start).only_enforce_if(c.served)
    model.add(away >= there.start - c.start).only_enforce_if(c.served)
    return [
        tenths(w.moved_load) * (c.served - stays),
        tenths(w.moved_pit) * (c.served - sum(same)),
        tenths(w.moved_minute * SLOT_MINUTES) * away,
    ]


def _fires(problem: Problem, v: PlanVars) -> Terms:
    w = problem.frame.weights
    return [
        term
        for pit, runs in v.runs.items()
        for run in runs
        for term in (
            tenths(problem.frame.pits[pit].fuel_points) * run.length,
            tenths(w.lighting) * run.used,
            tenths(w.change_over - w.lighting) * run.chained,
        )
    ]


def tenths(points: float) -> int:
    """Points as the solver's whole tenths."""
    return round(points * 10)
