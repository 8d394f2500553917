"""The rules of the plan, one function each; its name is the rule as a sentence."""

from collections.abc import Collection, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

from board.planning.crew import Counts
from board.planning.grid import SLOT_MINUTES, stretches
from board.planning.problem import Part, Problem, easy_slots
from board.planning.run import Run
from board.planning.solver.variables import PartVars, PlanVars, RunVars
from board.planning.standing import left_over

# The kinds of work on the pits.
KINDS = ("light", "load", "pull", "set", "wrap")
Model = cp_model.CpModel
Interval = cp_model.IntervalVar


def each_part_cooks_once_or_is_dropped(model: Model, v: PlanVars) -> None:
    """Σ_m here[c,m] + dropped[c] = 1; start[c] ∈ starts[c,m] where here[c,m]."""
    for c in v.parts:
        model.add_exactly_one(*c.here, c.dropped)
        for here, mode in zip(c.here, c.part.modes, strict=True):
            if not mode.starts:
                model.add(here == 0)
                continue
            model.add_linear_expression_in_domain(
                c.start, cp_model.Domain.from_values(list(mode.starts))
            ).only_enforce_if(here)
            model.add(c.off == c.start + c.part.load + mode.d50).only_enforce_if(here)


def rest_then_hold_until_ready(model: Model, problem: Problem, v: PlanVars) -> None:
    """hold ≥ ready_by − off − rest; over, late and thin count spare, lateness and a missed chance."""
    for c in v.parts:
        ready = c.part.ready_by
        model.add(c.hold >= c.part.wait_until - c.off - c.rest).only_enforce_if(c.served)
        spare = ready - c.off - c.part.rest_min
        model.add(c.over >= spare - easy_slots(problem, c.part)).only_enforce_if(c.served)
        model.add(c.late >= c.off + c.part.rest_min - ready).only_enforce_if(c.served)
        model.add(c.late == 0).only_enforce_if(c.is_late.negated())
        for here, mode in zip(c.here, c.part.modes, strict=True):
            rested = c.start + c.part.load + mode.dq + c.part.rest_min
            model.add(c.thin >= rested - ready).only_enforce_if(here)


def a_part_cooks_within_a_run_at_its_setpoint(model: Model, problem: Problem, v: PlanVars) -> None:
    """Σ_r within[c,m,r] = here[c,m]; run hot before loading, burning until the slowest piece is off."""
    for i, c in enumerate(v.parts):
        for m, (here, mode) in enumerate(zip(c.here, c.part.modes, strict=True)):
            runs = v.runs[mode.pit]
            inside = [v.within[i, m, r] for r in range(len(runs))]
            model.add(sum(inside) == here)
            warm = problem.frame.pits[mode.pit].warm
            for literal, run in zip(inside, runs, strict=True):
                model.add_implication(literal, run.used)
                model.add_implication(literal, run.at[mode.setpoint_c])
                cold, hot = run.chained.negated(), run.chained
                model.add(c.start >= run.begin + warm).only_enforce_if(literal, cold)
                change_over = problem.frame.pits[mode.pit].change_over
                model.add(c.start >= run.begin + change_over).only_enforce_if(literal, hot)
                model.add(c.start + c.part.load + mode.d90 <= run.end).only_enforce_if(literal)


def runs_of_a_pit_follow_each_other(model: Model, problem: Problem, v: PlanVars) -> None:
    """One setpoint a run; a run begins where the one before ends (chained) or after the pit went cold."""
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
        _never_while_shut(model, problem.frame.pits[pit].shut, runs)
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


def _never_while_shut(model: Model, shut: NDArray[np.bool_], runs: Sequence[RunVars]) -> None:
    closed = [
        model.new_fixed_size_interval_var(begin, size, "shut") for begin, size, on in stretches(shut) if on
    ]
    burning = [model.new_optional_interval_var(r.begin, r.length, r.end, r.used, "burning") for r in runs]
    if closed:
        model.add_no_overlap([*burning, *closed])


def _never_unused(model: Model, v: PlanVars, pit: str, runs: Sequence[RunVars]) -> None:
    for r, run in enumerate(runs):
        inside = [
            literal
            for (c, m, number), literal in v.within.items()
            if number == r and v.parts[c].part.modes[m].pit == pit
        ]
        model.add_bool_or(*inside, run.used.negated(), run.known)


def a_pit_holds_no_more_than_its_area(model: Model, problem: Problem, v: PlanVars) -> None:
    """Cumulative over [start, on + d90) with area: room is kept until the slowest is off."""
    for key, spot in problem.frame.spots.items():
        cooking: list[Interval] = []
        areas: list[int] = []
        for c in v.parts:
            for here, mode in zip(c.here, c.part.modes, strict=True):
                if mode.spot == key and mode.starts:
                    size = c.part.load + mode.d90
                    cooking.append(model.new_optional_fixed_size_interval_var(c.start, size, here, "on pit"))
                    areas.append(c.part.area_cm2)
        room_left = left_over(spot.area_cm2, problem.frame.grid.slots, problem.frame.taken.cooking[key])
        _never_more_than(model, room_left, list(zip(cooking, areas, strict=True)))


def a_fire_burns_long_enough_for_its_meat(model: Model, problem: Problem, v: PlanVars) -> None:
    """Σ area·(load + d90)·here ≤ room·Σ length: implied by the rules above, and a help to the bound."""
    for pit, runs in v.runs.items():
        meat = [
            c.part.area_cm2 * (c.part.load + mode.d90) * here
            for c in v.parts
            for here, mode in zip(c.here, c.part.modes, strict=True)
            if mode.pit == pit
        ]
        if meat and runs:
            model.add(sum(meat) <= problem.frame.pits[pit].area_cm2 * sum(run.length for run in runs))


def bench_and_hold_have_room(model: Model, problem: Problem, v: PlanVars) -> None:
    """Cumulative over [off, off + rest) on the bench and [off + rest, + hold) in the hold."""
    benches: list[Interval] = []
    holds: list[Interval] = []
    areas: list[int] = []
    for c in v.parts:
        benches.append(model.new_optional_interval_var(c.off, c.rest, c.rested, c.served, "rest"))
        holds.append(model.new_optional_interval_var(c.rested, c.hold, c.plated, c.served, "hold"))
        areas.append(c.part.area_cm2)
    frame = problem.frame
    bench = left_over(frame.bench_cm2, frame.grid.slots, frame.taken.bench)
    hold = left_over(frame.hold_cm2, frame.grid.slots, frame.taken.hold)
    _never_more_than(model, bench, list(zip(benches, areas, strict=True)))
    _never_more_than(model, hold, list(zip(holds, areas, strict=True)))


def hands_are_enough(model: Model, problem: Problem, v: PlanVars) -> None:
    """A pair of hands a task that does its kind of work, and attention shared by tasks and lit fires."""
    tasks = [task for c in v.parts for task in _tasks(model, c)]
    fires: list[tuple[Interval, int]] = []
    for pit, runs in v.runs.items():
        room = problem.frame.pits[pit]
        for run in runs:
            tasks.append(("light", _lighting(model, run, room.light)))
            if room.tend_percent:
                burning = model.new_optional_interval_var(run.begin, run.length, run.end, run.used, "tended")
                fires.append((burning, room.tend_percent))
    crew, percent = problem.frame.crew, problem.frame.weights.task_attention_percent
    for kinds, hands in crew.limits(KINDS):
        left = np.maximum(0, hands - _known_work(problem, kinds))
        _never_more_than(model, left, [(task, 1) for what, task in tasks if what in kinds])
    free = crew.attention(percent) - percent * _known_work(problem, KINDS)
    watching = np.maximum(free, _known_watch(problem))
    _never_more_than(model, watching, [*((task, percent) for _, task in tasks), *fires])


def _known_work(problem: Problem, kinds: Collection[str]) -> Counts:
    """The hands that work of these kinds takes which stands and is not given to anyone yet."""
    busy = np.zeros(problem.frame.grid.slots, dtype=np.int64)
    for task in problem.frame.taken.tasks:
        busy[task.begin : task.end] += task.what in kinds
    return busy


def _known_watch(problem: Problem) -> Counts:
    """The attention that fires burning already take, which is given to them whoever is there."""
    watched = np.zeros(problem.frame.grid.slots, dtype=np.int64)
    for pit, runs in problem.frame.taken.runs.items():
        for run in runs:
            watched[run.begin : run.end] += problem.frame.pits[pit].tend_percent
    return watched


def _never_more_than(model: Model, there: Counts, wanted: Sequence[tuple[Interval, int]]) -> None:
    """A cumulative whose capacity changes: what is missing to the most ever there is taken up."""
    most = int(there.max(initial=0))
    missing = [
        (model.new_fixed_size_interval_var(begin, size, "missing"), most - left)
        for begin, size, left in stretches(there)
        if left < most
    ]
    both = [*wanted, *missing]
    if not wanted:
        return
    model.add_cumulative([interval for interval, _ in both], [amount for _, amount in both], most)


def _tasks(model: Model, c: PartVars) -> list[tuple[str, Interval]]:
    part = c.part
    tasks = [
        ("load", model.new_optional_fixed_size_interval_var(c.start, part.load, c.served, "load")),
        ("pull", model.new_optional_fixed_size_interval_var(c.off, part.pull, c.served, "pull")),
    ]
    for here, mode in zip(c.here, part.modes, strict=True):
        if mode.wrap is not None and mode.starts:
            begin = c.start + part.load + mode.wrap
            wrap = model.new_optional_fixed_size_interval_var(begin, part.wrap, here, "wrap")
            tasks.append(("wrap", wrap))
    return tasks


def _lighting(model: Model, run: RunVars, light: int) -> Interval:
    lit = model.new_bool_var("lit")
    model.add_bool_and(run.used, run.chained.negated(), run.known.negated()).only_enforce_if(lit)
    model.add_bool_or(lit, run.used.negated(), run.chained, run.known)
    return model.new_optional_fixed_size_interval_var(run.begin, light, lit, "light")


def parts_of_one_need_keep_their_order(model: Model, v: PlanVars) -> None:
    """Parts that differ in nothing start in order, and the later one is dropped first: no mirror plans."""
    for a, b in pairwise(v.parts):
        if a.part.need is b.part.need and _alike(a.part, b.part):
            model.add_implication(a.dropped, b.dropped)
            model.add(a.start <= b.start).only_enforce_if(b.served)


def _alike(a: Part, b: Part) -> bool:
    same = (a.pieces, a.due, a.share.timed_as, a.share.serves, a.kept, a.pinned)
    return same == (b.pieces, b.due, b.share.timed_as, b.share.serves, b.kept, b.pinned)


def cost_of(model: Model, problem: Problem, v: PlanVars) -> None:
    """Minimise unserved, late, thin, over-held, fuel and lighting, in tenths of a point."""
    w = problem.frame.weights
    terms: list[cp_model.LinearExprT] = []
    for c in v.parts:
        worth, minute = c.part.worth, SLOT_MINUTES
        terms += [
            tenths(w.unserved_portion * worth) * c.dropped,
            tenths(w.late_portion * worth) * c.is_late,
            tenths(w.late_portion_minute * worth * minute) * c.late,
            tenths(w.thin_portion_minute * worth * minute) * c.thin,
            tenths(w.hold_portion_minute * worth * minute) * c.over,
            tenths(c.part.wait_points) * c.served,
            *(tenths(m.work_points) * here for here, m in zip(c.here, c.part.modes, strict=True)),
        ]
    for pit, runs in v.runs.items():
        for run in runs:
            terms += [
                tenths(problem.frame.pits[pit].fuel_points) * run.length,
                tenths(w.lighting) * run.used,
                tenths(w.change_over - w.lighting) * run.chained,
            ]
    model.minimize(sum(terms))


def tenths(points: float) -> int:
    """Points as the solver's whole tenths."""
    return round(points * 10)
