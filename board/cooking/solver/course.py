"""Runs members from loading to the pull, through wraps and rests, each by its own clock."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.loss import lost_share
from board.cooking.physics.parameters import Parameters
from board.cooking.solver.columns import Constants, State, Surroundings
from board.cooking.solver.ensemble import (
    DONE,
    ELSEWHERE,
    FIRST_STEP_S,
    KEPT,
    OPEN,
    RESTING,
    WRAPPED,
    Ensemble,
)
from board.cooking.solver.running import Course, Running, Trace
from board.cooking.solver.step import advance

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]

LONGEST_STEP_S = 1200.0
EVEN_K = 0.5  # between a step's air and that of its first part, which no error of the last step foretells
FIRST_PART = 0.25
UNEVEN_STEP_S = 120.0  # whatever the air does
BOILING_STEP_S = 120.0  # where nodes come to boil one after another, each within a step
SLOWEST_K_S = 1e-4
NEAR_BOILING_K = 15.0
SHORTEST_STEP_S = 0.25
ON_TIME_S = 1e-6
SPARE_ROOM = 0.85  # of the members still running, below which the finished are dropped


def constants(parameters: Parameters) -> Constants:
    """The scalars a step needs."""
    return Constants(**{name: parameters.fixed[name] for name in Constants.__dataclass_fields__})


def run(ensemble: Ensemble, fixed: Constants, trace: Trace | None = None) -> Course:
    """Cook every member to its end; a member that never reaches its core stops at two days."""
    members = ensemble.state.seconds.size
    course = Course.blank(members)
    now = Running(
        ids=np.arange(members),
        phase=np.zeros(members, dtype=np.intp),
        moved=np.zeros(members, dtype=bool),
        landing=np.zeros(members, dtype=bool),
        meat=ensemble.meat,
        places=ensemble.places,
        around=_at(ensemble.places, OPEN),
        state=ensemble.state,
        aims=ensemble.aims,
        pit_air=ensemble.pit_air,
    )
    if trace is not None:
        trace.note(now, np.arange(members), members, fixed)
    while now.ids.size:
        running = np.flatnonzero(now.phase != DONE)
        alive = _one_step(now, course, fixed)
        if trace is not None:
            trace.note(now, running, members, fixed)
        if alive.mean() < SPARE_ROOM:
            now = now.only(np.flatnonzero(alive))
    return course


def _at(places: Surroundings, phase: int) -> Surroundings:
    """Every member's surroundings in one phase."""
    return Surroundings(*(getattr(places, n)[phase].copy() for n in Surroundings.names()))


def _one_step(now: Running, course: Course, fixed: Constants) -> NDArray[np.bool_]:
    """Advance all members, move on those that are due; true for those still to go on."""
    before = now.state
    after = advance(before, now.meat, _met(now), fixed)
    due, share = _due(now, before, after)
    now.state = after
    switch, back = now.landing, due & ~now.landing
    now.landing = back
    if back.any():
        _step_back(before, after, np.flatnonzero(back), share)
    if switch.any():
        _move_on(now, course, np.flatnonzero(switch), fixed)
    switch |= _on_time(now, course, back) | _kept(now, course)
    _watch_rest(now, course)
    gone = _rested(now, course) | ((after.seconds >= now.aims.last_s) & (now.phase < RESTING))
    now.phase[gone] = DONE
    _next_step(now, course, ~(now.landing | switch))
    return np.asarray(now.phase != DONE)


def _met(now: Running) -> Surroundings:
    """What each member meets in this step: its place, under the air of its pit at that time."""
    if not now.pit_air.count:
        return now.around
    living = (now.aims.curve >= 0) & (now.phase < RESTING)
    air = np.where(living, now.pit_air.mean(now.aims.curve, now.state.seconds, now.state.step), 0.0)
    return replace(now.around, air_c=now.around.air_c + air, wall_k=now.around.wall_k + air)


def _on_time(now: Running, course: Course, back: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Wrap and carry over those whose moment has come; true for those."""
    here = now.state.seconds + ON_TIME_S
    wrap = ~back & (now.phase == OPEN) & (here >= now.aims.wrap_s)
    move = ~back & (now.phase < RESTING) & ~now.moved & (here >= now.aims.move_s)
    if not (wrap | move).any():
        return np.asarray(wrap)
    now.moved = now.moved | move
    now.phase = np.where(wrap, WRAPPED, now.phase)
    course.wrapped_s[now.ids[wrap]] = now.state.seconds[wrap]
    _settle(now, np.flatnonzero(wrap | move))
    return np.asarray(wrap | move)


def _settle(now: Running, who: Indices) -> None:
    """Put members where their phase and pit say, to start there with small steps."""
    place = now.phase[who] + np.where(now.moved[who] & (now.phase[who] < RESTING), ELSEWHERE, 0)
    for name in Surroundings.names():
        getattr(now.around, name)[who] = getattr(now.places, name)[place, who]
    now.state.celsius_before[:, who] = now.state.celsius[:, who]
    now.state.step[who] = FIRST_STEP_S


def _due(now: Running, before: State, after: State) -> tuple[NDArray[np.bool_], Floats]:
    """Who came to an aim in the step, and at what part of it.

    A wrap waits for a core, a pull for a core and for tenderness, whichever comes last.
    """
    aims = now.aims
    wrapping = (now.phase == OPEN) & (aims.wrap_c < aims.pull_c)
    aim_c = np.where(wrapping, aims.wrap_c, aims.pull_c)
    core = _crossed(aim_c, before.celsius[0], after.celsius[0], _bend(before, after))
    tender = _crossed(np.where(wrapping, 0.0, aims.tender_s), before.tender, after.tender)
    share = np.maximum(core, tender)
    return (share <= 1.0) & (now.phase < RESTING), np.clip(share, 0.0, 1.0)


def _bend(before: State, after: State) -> Floats:
    """How far the core's course sags from straight in a step, K: four times its depth half way.

    From the parabola through the step before; none where that is not known.
    """
    ratio = before.step / before.step_before
    rise, last = after.celsius[0] - before.celsius[0], before.celsius[0] - before.celsius_before[0]
    return np.asarray(np.where(last == 0.0, 0.0, (rise - ratio * last) * ratio / (1.0 + ratio)))


def _crossed(aim: Floats, before: Floats, after: Floats, bend: Floats | float = 0.0) -> Floats:
    """At what part of a step a value passes its aim: 0 when it was there, infinite when it is not yet."""
    there = np.maximum(after, before) >= aim
    rise = np.where(after > before, after - before, 1.0)
    straight = np.where(there, aim - before, 0.0) / rise
    part = straight + bend / rise * straight * (1.0 - straight)
    part = straight + bend / rise * part * (1.0 - part)
    part = np.where(before >= aim, 0.0, np.clip(part, 0.0, 1.0))
    return np.asarray(np.where(there, part, np.inf))


def _step_back(before: State, after: State, who: Indices, share: Floats) -> None:
    """Return members to the start of the step and shorten it to land on their aim."""
    after.put(who, before.take(who))
    after.step[who] = np.maximum(share[who] * before.step[who], SHORTEST_STEP_S)


def _pull(now: Running, course: Course, who: Indices, seconds: Floats, fixed: Constants) -> None:
    """Write down the pull of some members."""
    if not who.size:
        return
    ids = now.ids[who]
    course.pulled_s[ids] = seconds[who]
    course.reached[ids] = True
    course.lost[ids] = lost_share(now.state, now.meat, fixed)[who]
    course.pulled_c[ids] = course.peak_c[ids] = now.core_c()[who]


def _move_on(now: Running, course: Course, who: Indices, fixed: Constants) -> None:
    """Wrap, or pull to the rest, the members that have landed on their aim; start with small steps."""
    wrapping = (now.phase[who] == OPEN) & (now.aims.wrap_c[who] < now.aims.pull_c[who])
    course.wrapped_s[now.ids[who[wrapping]]] = now.state.seconds[who[wrapping]]
    _pull(now, course, who[~wrapping], now.state.seconds, fixed)
    now.phase[who] = np.where(wrapping, WRAPPED, RESTING)
    _settle(now, who)


def _watch_rest(now: Running, course: Course) -> None:
    """Keep the highest core of those resting."""
    resting = (now.phase == RESTING) | (now.phase == KEPT)
    if resting.any():
        ids = now.ids[resting]
        course.peak_c[ids] = np.maximum(course.peak_c[ids], now.core_c()[resting])


def _kept(now: Running, course: Course) -> NDArray[np.bool_]:
    """Carry those whose first rest is over to where they are kept after it; true for those."""
    over = (now.phase == RESTING) & (now.aims.kept_s > 0.0) & (now.state.seconds >= _rest_ends(now, course))
    now.phase = np.where(over, KEPT, now.phase)
    if over.any():
        _settle(now, np.flatnonzero(over))
    return np.asarray(over)


def _rested(now: Running, course: Course) -> NDArray[np.bool_]:
    """Which members' rest is over."""
    return np.asarray((now.phase >= RESTING) & (now.state.seconds >= _rest_ends(now, course)))


def _rest_ends(now: Running, course: Course) -> Floats:
    """When each member leaves the place it rests in, s; only of those that rest."""
    kept_s = np.where(now.phase == KEPT, now.aims.kept_s, 0.0)
    return np.asarray(course.pulled_s[now.ids] + now.aims.rest_s + kept_s - ON_TIME_S)


def _next_step(now: Running, course: Course, grow: NDArray[np.bool_]) -> None:
    """Let the steps follow their error, and end on a moment that was set; the finished hardly move."""
    state = now.state
    wanted = np.minimum(state.step_wanted, _until_boiling(now))
    step = np.where(grow, _through_air(now, wanted), state.step)
    left = _next_moment(now, course) - state.seconds
    left = np.where(now.phase == DONE, 0.0, left)
    state.step = np.where(now.landing, step, np.clip(left, SHORTEST_STEP_S, step))


def _until_boiling(now: Running) -> Floats:
    """The longest step: until the next node comes to boil at its pace, once the surface is near it."""
    state, left = now.state, now.meat.boiling - now.state.celsius
    near = left[-1] < NEAR_BOILING_K
    if not near.any():
        return np.full_like(state.seconds, LONGEST_STEP_S)
    pace = (state.celsius - state.celsius_before) / state.step_before
    left_s = np.where(left > 0.0, left / np.maximum(pace, SLOWEST_K_S), np.inf).min(axis=0)
    longest = np.minimum(np.maximum(left_s, BOILING_STEP_S), LONGEST_STEP_S)
    return np.asarray(np.where(near, longest, LONGEST_STEP_S))


def _through_air(now: Running, step: Floats) -> Floats:
    """Steps shortened where the air ahead moves, as at a lid or a new setpoint."""
    if not now.pit_air.count:
        return step
    curve, start = now.aims.curve, now.state.seconds
    uneven = np.abs(now.pit_air.mean(curve, start, step) - now.pit_air.mean(curve, start, FIRST_PART * step))
    shorter = np.maximum(step * EVEN_K / np.maximum(uneven, EVEN_K), np.minimum(step, UNEVEN_STEP_S))
    return np.asarray(np.where((curve >= 0) & (now.phase < RESTING), shorter, step))


def _next_moment(now: Running, course: Course) -> Floats:
    """The next set moment of each member: the end of a rest, a wrap by the clock, a change of pit."""
    wrap_s = np.where(now.phase == OPEN, now.aims.wrap_s, np.inf)
    move_s = np.where(now.moved, np.inf, now.aims.move_s)
    off_s = _rest_ends(now, course) + ON_TIME_S
    return np.where(now.phase >= RESTING, off_s, np.minimum(wrap_s, move_s))
