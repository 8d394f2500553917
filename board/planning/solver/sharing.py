"""What parts and fires share: spots, bench, hold, hands and attention, as resources with their calendars."""

from collections.abc import Collection, Hashable
from itertools import combinations

import numpy as np

from board.planning.core.activity import Mode
from board.planning.crew import Counts
from board.planning.levels import apart_from, drips
from board.planning.problem import PitRoom, Problem
from board.planning.solver.variables import PartVars, PlanVars, RunVars
from board.planning.standing import left_over

# The kinds of work on the pits.
KINDS = ("light", "load", "pull", "set", "wrap")
Uses = dict[Hashable, int]


def a_pit_holds_no_more_than_its_area(problem: Problem, v: PlanVars) -> None:
    """Each spot's area over [start, on + d90): room is kept until the slowest is off."""
    frame = problem.frame
    for key, spot in frame.spots.items():
        v.plan.resource(("spot", key), left_over(spot.area_cm2, frame.grid.slots, frame.taken.cooking[key]))


def raw_birds_never_lie_above_other_meat(problem: Problem, v: PlanVars) -> None:
    """A bird on a higher level and other meat below it are not on one pit at once; nor beside what stands."""
    spots = problem.frame.spots
    high = {spot.pit for spot in spots.values() if spot.level > 0}
    stays = [
        (c.part, spots[mode.spot], stay)
        for c in v.parts
        for mode, stay in zip(c.part.modes, c.cook.stays, strict=False)
        if stay is not None and mode.pit in high
    ]
    for (a, spot_a, stay_a), (b, spot_b, stay_b) in combinations(stays, 2):
        if a is not b and spot_a.pit == spot_b.pit and drips(a, spot_a, b, spot_b):
            v.plan.model.add_no_overlap([stay_a, stay_b])
    for part, spot, stay in stays:
        for first, last, _ in apart_from(problem, part, spot.id):
            standing = v.plan.model.new_fixed_size_interval_var(first, last - first, "stands")
            v.plan.model.add_no_overlap([stay, standing])


def bench_and_hold_have_room(problem: Problem, v: PlanVars) -> None:
    """Area over [off, off + rest) on the bench and [off + rest, + hold) in the hold."""
    for c in v.parts:
        part = c.part
        resting = Mode(part.rest_min, {"bench": part.area_cm2}, most=max(part.rest_min, part.rest_max))
        holding = Mode(0, {"hold": part.area_cm2}, most=part.hold_max)
        v.plan.activity("rest", [resting], start=c.off, length=c.rest, end=c.rested, done=c.served)
        v.plan.activity("hold", [holding], start=c.rested, length=c.hold, end=c.plated, done=c.served)
        v.plan.lag(c.off + c.rest, c.rested, 0, 0, when=[c.served])
    frame, slots = problem.frame, problem.frame.grid.slots
    v.plan.resource("bench", left_over(frame.bench_cm2, slots, frame.taken.bench))
    v.plan.resource("hold", left_over(frame.hold_cm2, slots, frame.taken.hold))


def hands_are_enough_and_no_fire_burns_while_its_pit_is_shut(problem: Problem, v: PlanVars) -> None:
    """A pair of hands a task that does its kind of work, and attention shared by tasks and lit fires."""
    crew, percent = problem.frame.crew, problem.frame.weights.task_attention_percent
    limits = crew.limits(KINDS)
    uses: dict[str, Uses] = {
        what: {"attention": percent} | {("hands", kinds): 1 for kinds, _ in limits if what in kinds}
        for what in KINDS
    }
    for c in v.parts:
        _tasks(v, c, uses)
    for pit, runs in v.runs.items():
        for run in runs:
            _burning(v, problem.frame.pits[pit], run, uses["light"])
        v.plan.resource(("fire", pit), np.where(problem.frame.pits[pit].shut, 0, 1))
    for kinds, hands in limits:
        v.plan.resource(("hands", kinds), np.maximum(0, hands - _known_work(problem, kinds)))
    free = crew.attention(percent) - percent * _known_work(problem, KINDS)
    v.plan.resource("attention", np.maximum(free, _known_watch(problem)))


def _tasks(v: PlanVars, c: PartVars, uses: dict[str, Uses]) -> None:
    part = c.part
    v.plan.activity("load", [Mode(part.load, uses["load"])], start=c.start, done=c.served)
    v.plan.activity("pull", [Mode(part.pull, uses["pull"])], start=c.off, done=c.served)
    for here, mode in zip(c.here, part.modes, strict=False):
        if mode.wrap is not None and mode.starts:
            begin = c.start + part.load + mode.wrap
            v.plan.activity("wrap", [Mode(part.wrap, uses["wrap"])], start=begin, done=here)


def _burning(v: PlanVars, room: PitRoom, run: RunVars, lighting: Uses) -> None:
    """A fire takes attention while it burns, hands to light it, and its pit where that is shut at times."""
    lit = v.plan.model.new_bool_var("lit")
    v.plan.model.add_bool_and(run.used, run.chained.negated(), run.known.negated()).only_enforce_if(lit)
    v.plan.model.add_bool_or(lit, run.used.negated(), run.chained, run.known)
    v.plan.activity("light", [Mode(room.light, lighting)], start=run.begin, done=lit)
    uses: Uses = {"attention": room.tend_percent, ("fire", room.pit.id): int(bool(room.shut.any()))}
    burning = Mode(0, uses, most=v.plan.horizon)
    v.plan.activity("burning", [burning], start=run.begin, length=run.length, end=run.end, done=run.used)


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
