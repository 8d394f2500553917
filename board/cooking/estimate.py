"""How long cooks take: spans from an ensemble of bodies advanced together."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook, Curve, Estimate, Paths, PitAir, Rest, Stall
from board.cooking.errors import CookingError
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.possible import check, hottest_c
from board.cooking.readings.revise import Revision, revise
from board.cooking.sampling import drawn
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import CAP_S, Ensemble, ensemble, joined
from board.cooking.solver.running import Course, Trace
from board.cooking.spans import span_of
from board.cooking.stall import stall_in
from board.cooking.thin_end import thin_end

__all__ = [
    "Cook",
    "Curve",
    "Estimate",
    "Paths",
    "PitAir",
    "Rest",
    "Revision",
    "Stall",
    "estimate",
    "revise",
]

Floats = NDArray[np.float64]

TOGETHER = 4096  # members advanced as one array: fewer waste time on calls, more on memory
GRID_MINUTES = 2.0
MEMBERS = (8, 5000)


def estimate(
    cooks: Sequence[Cook],
    *,
    members: int = 200,
    seed: int = 0,
    curves: bool = False,
    thin_ends: bool = True,
    using: Parameters | None = None,
) -> list[Estimate]:
    """The estimate of each cook, in order.

    Same cook, members and seed give the same figures whatever other cooks are asked with it. `curves`
    adds the curve, the stall, every member's path and, with `thin_ends`, the thin end. Raises CookingError
    for a cook that cannot be.
    """
    if not MEMBERS[0] <= members <= MEMBERS[1]:
        raise CookingError(f"an ensemble has {MEMBERS[0]} to {MEMBERS[1]} members; got {members}")
    chosen = using or parameters()
    for cook in cooks:
        check(cook)
    draws = [drawn(cook, members, seed, chosen) for cook in cooks]
    parts = [ensemble(cook, its, chosen) for cook, its in zip(cooks, draws, strict=True)]
    found: dict[int, Estimate] = {}
    for group in _groups(parts):
        trace = Trace([], [], []) if curves else None
        course = run(joined([parts[i] for i in group]), constants(chosen), trace)
        for place, i in enumerate(group):
            own = slice(place * members, (place + 1) * members)
            found[i] = _answer(cooks[i], course, trace, own)
            if curves and thin_ends:
                thin = thin_end(cooks[i], draws[i], course.pulled_s[own], course.wrapped_s[own], chosen)
                found[i] = replace(found[i], thin_end=thin)
    return [found[i] for i in range(len(cooks))]


def _groups(parts: Sequence[Ensemble]) -> Iterator[list[int]]:
    """Cooks to advance together: alike in length, so that few members wait for the last."""
    order = sorted(range(len(parts)), key=lambda i: (float(parts[i].aims.pull_c[0]), i))
    group: list[int] = []
    size = 0
    for i in order:
        group.append(i)
        size += parts[i].state.seconds.size
        if size >= TOGETHER:
            yield group
            group, size = [], 0
    if group:
        yield group


def _answer(cook: Cook, course: Course, trace: Trace | None, own: slice) -> Estimate:
    """One cook's estimate from its members."""
    reached = course.reached[own]
    if reached.mean() < 0.5:
        raise CookingError(_never(cook))
    minutes = course.pulled_s[own] / 60.0
    wrapped = course.wrapped_s[own] / 60.0
    span = span_of(minutes)
    curve, paths, stall = _drawn(trace, own, minutes, cook) if trace else (None, None, None)
    return Estimate(
        minutes=span,
        member_minutes=minutes,
        wrap_minutes=span_of(wrapped[~np.isnan(wrapped)]) if (~np.isnan(wrapped)).any() else None,
        loss_percent=span_of(100.0 * course.lost[own][reached]),
        pulled_core_c=span_of(course.pulled_c[own][reached]),
        peak_after_pull_c=span_of(course.peak_c[own][reached]) if cook.rest else None,
        stall=stall,
        curve=curve,
        paths=paths,
    )


def _never(cook: Cook) -> str:
    """What a cook is told that most members never bring to its end."""
    pit = f"a pit at {hottest_c(cook):.0f} °C"
    core, within = f"{cook.until_core_c:.0f} °C", f"within {CAP_S / 3600:.0f} h; set the pit higher"
    if cook.tender_minutes:
        return f"{cook.cut.name}: {pit} does not make it tender, its core at {core} or more, {within}"
    return f"{cook.cut.name}: {pit} does not bring the core to {core} {within} or pull lower"


def _drawn(trace: Trace, own: slice, pulled: Floats, cook: Cook) -> tuple[Curve, Paths, Stall | None]:
    """The curve on the pit, the members' paths and the stall of the middle core."""
    span = span_of(pulled)
    minutes = np.arange(0.0, pulled.max() + GRID_MINUTES, GRID_MINUTES)
    seconds = np.array(trace.seconds)[:, own]
    cores, surfaces, lost = (
        _on_grid(minutes, seconds, np.array(rows)[:, own], pulled)
        for rows in (trace.core, trace.surface, trace.lost)
    )
    lost = np.maximum.accumulate(lost, axis=1)  # fat that has melted out stays out while a lid is open
    upto = minutes <= span.p90 + GRID_MINUTES
    p10, p50, p90 = np.percentile(cores[:, upto], (10, 50, 90), axis=0)
    surface, loss = (np.median(rows[:, upto], axis=0) for rows in (surfaces, 100.0 * lost))
    curve = Curve(minutes[upto], p10, p50, p90, surface, loss)
    before = curve.minutes <= span.p50
    stall = stall_in(curve.minutes[before], curve.core_p50[before])
    on = np.where(minutes[None, :] <= pulled[:, None], cores, np.nan).astype(np.float32)
    return curve, Paths(minutes, on, cook.until_core_c, cook.tender_minutes == 0.0), stall


def _on_grid(minutes: Floats, seconds: Floats, values: Floats, pulled: Floats) -> Floats:
    """Each member's values at common minutes; what it was pulled at stands from then on."""
    rows = []
    for s, v, end in zip(seconds.T, values.T, pulled, strict=True):
        known = ~np.isnan(s)
        rows.append(np.interp(np.minimum(minutes, end), s[known] / 60.0, v[known]))
    return np.array(rows)
