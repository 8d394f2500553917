"""The rules of the plan, one function each; its name is the rule as a sentence."""

from collections.abc import Sequence
from itertools import pairwise

from ortools.sat.python import cp_model

from board.planning.problem import Mode, Part, Problem, easy_slots
from board.planning.run import Run
from board.planning.solver.variables import PartVars, PlanVars, RunVars

Model = cp_model.CpModel


def each_part_cooks_once_or_is_dropped(v: PlanVars) -> None:
    """off = start + load + d50 in the mode it cooks in; mode, start and dropping are the activity's own."""
    for c in v.parts:
        for here, mode in zip(c.here, c.part.modes, strict=False):
            usual = c.part.load + mode.d50
            v.plan.lag(c.start, c.off, usual, usual, when=[here])


def rest_then_hold_until_ready(problem: Problem, v: PlanVars) -> None:
    """hold ≥ ready_by − off − rest; over, late and thin count spare, lateness and a missed chance."""
    model = v.plan.model
    for c in v.parts:
        ready = c.part.ready_by
        model.add(c.hold >= c.part.wait_until - c.off - c.rest).only_enforce_if(c.served)
        spare = ready - c.off - c.part.rest_min
        model.add(c.over >= spare - easy_slots(problem, c.part)).only_enforce_if(c.served)
        model.add(c.late >= c.off + c.part.rest_min - ready).only_enforce_if(c.served)
        model.add(c.late == 0).only_enforce_if(c.is_late.negated())
        for here, mode in zip(c.here, c.part.modes, strict=False):
            rested = c.start + c.part.load + mode.dq + c.part.rest_min
            model.add(c.thin >= rested - ready).only_enforce_if(here)


def a_part_cooks_within_a_run_at_its_setpoint(problem: Problem, v: PlanVars) -> None:
    """Σ_r within[c,m,r] = here[c,m]; run hot before loading, burning until the slowest piece is off."""
    for i, c in enumerate(v.parts):
        for m, (here, mode) in enumerate(zip(c.here, c.part.modes, strict=False)):
            if not mode.starts:
                continue
            runs, room = v.runs[mode.pit], problem.frame.pits[mode.pit]
            inside = [v.within[i, m, r] for r in range(len(runs))]
            v.plan.model.add(sum(inside) == here)
            for r, (literal, run) in enumerate(zip(inside, runs, strict=True)):
                v.plan.model.add_implication(literal, run.used)
                v.plan.model.add_implication(literal, run.at[mode.setpoint_c])
                v.plan.lag(run.begin, c.start, room.warm, when=[literal, run.chained.negated()])
                v.plan.lag(run.begin, c.start, room.change_over, when=[literal, run.chained])
                _burns_until_off(v, c, mode, literal, runs[r:])


def _burns_until_off(
    v: PlanVars, c: PartVars, mode: Mode, within: cp_model.IntVar, runs: Sequence[RunVars]
) -> None:
    """The run lasts until the part is off; or until its setpoint turns, and the next one from there."""
    last = runs[0]
    if mode.turn is not None:
        if len(runs) < 2:
            v.plan.model.add(within == 0)
            return
        last, after = runs[1], c.part.load + mode.turn.after
        v.plan.lag(c.start, runs[0].end, after, after, when=[within])
        v.plan.model.add_implication(within, last.chained)
        v.plan.model.add_implication(within, last.at[mode.turn.setpoint_c])
    v.plan.lag(c.start, last.end, c.part.load + mode.d90, when=[within])


def runs_of_a_pit_follow_each_other(problem: Problem, v: PlanVars) -> None:
    """One setpoint a run; a run begins where the one before ends (chained) or after the pit went cold."""
    model = v.plan.model
    for pit, runs in v.runs.items():
        for run in runs:
            model.add(run.length == run.end - run.begin)
            model.add(run.length == 0).only_enforce_if(run.used.negated())
            now = problem.frame.outset.earliest
            model.add(run.begin >= now).only_enforce_if(run.used, run.known.negated())
            model.add_implication(run.chained, run.used)
            model.add(sum(run.at.values()) == run.used)
        if runs:
            model.add_implication(runs[0].chained, runs[0].known)
        for before, run in pairwise(runs):
            model.add_implication(run.used, before.used)
            model.add(run.begin == before.end).only_enforce_if(run.chained)
            model.add(run.begin > before.end).only_enforce_if(run.used, run.chained.negated())
            model.add(run.begin >= before.end)
        _known_fires_burn_on(model, problem.frame.taken.runs[pit], runs)
        _never_unused(model, v, pit, runs)


def _known_fires_burn_on(model: Model, fires: Sequence[Run], runs: Sequence[RunVars]) -> None:
    """Each fire that burns already is one of the runs: begun as it was, and burning no shorter."""
    matches = [[model.new_bool_var("is") for _ in runs] for _ in fires]
    for fire, match in zip(fires, matches, strict=True):
        model.add_exactly_one(match)
        for literal, run in zip(match, runs, strict=True):
            model.add(run.begin == fire.begin).only_enforce_if(literal)
            model.add(run.end >= fire.end).only_enforce_if(literal)
            model.add(run.chained == fire.chained).only_enforce_if(literal)
            model.add_implication(literal, run.used)
            model.add_implication(literal, run.at[fire.setpoint_c])
    for r, run in enumerate(runs):
        model.add(run.known == sum(match[r] for match in matches))


def _never_unused(model: Model, v: PlanVars, pit: str, runs: Sequence[RunVars]) -> None:
    for r, run in enumerate(runs):
        inside = [
            literal
            for (c, m, number), literal in v.within.items()
            if (mode := v.parts[c].part.modes[m]).pit == pit
            and (number == r or (mode.turn is not None and number == r - 1))
        ]
        model.add_bool_or(*inside, run.used.negated(), run.known)


def a_fire_burns_long_enough_for_its_meat(problem: Problem, v: PlanVars) -> None:
    """Σ area·(load + d90)·here ≤ room·Σ length: implied by the rules above, and a help to the bound."""
    for pit, runs in v.runs.items():
        meat = [
            c.part.area_cm2 * (c.part.load + mode.d90) * here
            for c in v.parts
            for here, mode in zip(c.here, c.part.modes, strict=False)
            if mode.pit == pit and mode.starts
        ]
        if meat and runs:
            v.plan.model.add(sum(meat) <= problem.frame.pits[pit].area_cm2 * sum(run.length for run in runs))


def parts_of_one_need_keep_their_order(v: PlanVars) -> None:
    """Parts that differ in nothing start in order, and the later one is dropped first: no mirror plans."""
    model = v.plan.model
    for a, b in pairwise(v.parts):
        if _alike(a.part, b.part):
            model.add_implication(a.dropped, b.dropped)
            model.add(a.start <= b.start).only_enforce_if(b.served)


def rows_of_alike(parts: Sequence[Part]) -> list[list[Part]]:
    """Parts beside each other that differ in nothing, in rows of two or more."""
    rows: list[list[Part]] = []
    for part in parts:
        if rows and _alike(rows[-1][-1], part):
            rows[-1].append(part)
        else:
            rows.append([part])
    return [row for row in rows if len(row) > 1]


def _alike(a: Part, b: Part) -> bool:
    same = (a.pieces, a.due, a.share.timed_as, a.share.serves, a.kept, a.pinned)
    alike = same == (b.pieces, b.due, b.share.timed_as, b.share.serves, b.kept, b.pinned)
    return alike and a.need is b.need and _ways(a) == _ways(b)


def _ways(part: Part) -> list[tuple[object, ...]]:
    return [(m.spot, m.setpoint_c, m.d50, m.d90, m.dq, m.wrap, m.turn, m.starts) for m in part.modes]
