"""What remedies lead to: all asked of one ensemble, member by member, after the same readings."""

from collections.abc import Sequence
from datetime import timedelta

import numpy as np

from board.cooking.cook import Estimate
from board.cooking.estimate import revise
from board.cooking.estimates import estimates
from board.cooking.spans import span_of
from board.house.spans import Span, TimeSpan
from board.planning.remedies import altered
from board.planning.remedies.candidate import Candidate
from board.planning.remedies.chance import chance_by
from board.planning.remedies.remedy import Remedy
from board.planning.remedies.scene import OnPit, Scene

OTHERS_MEMBERS = 32  # a shift between two cooks of the same members needs few


def judged(
    scene: Scene, asked: Sequence[Candidate], *, members: int, seed: int
) -> list[tuple[Candidate, Remedy]]:
    """Each candidate with its ready time and chance; the first is doing nothing.

    All share their draws and their past, so that they differ by physics and not by luck. One whose cook
    cannot be is left out; so are all where doing nothing never comes to its pull.
    """
    found = estimates([one.cook for one in asked], members=members, seed=seed)
    base = found.get(asked[0].cook)
    if base is None:
        return []
    pairs = [(one, found[one.cook]) for one in asked if one.cook in found]
    return [(one, _remedy(scene, one, _pull(scene, answer, base, seed))) for one, answer in pairs]


def minutes_sooner(
    scene: Scene, others: Sequence[OnPit], setpoint_c: float, *, seed: int
) -> dict[str, float]:
    """How much sooner each load is likely pulled if its pit is set so now; negative is later; by key."""
    cooks = {}
    for one in others:
        changed = altered.set_to(one.cook, one.minutes(scene.now), scene.setpoint_c, setpoint_c)
        if one.turn_minute is not None:
            changed = altered.set_to(changed, one.turn_minute, setpoint_c, scene.setpoint_c)
        cooks[one.key] = (one.cook, changed)
    flat = [cook for pair in cooks.values() for cook in pair]
    found = estimates(flat, members=OTHERS_MEMBERS, seed=seed, curves=False)
    shifts = {}
    for one in others:
        as_is, so = (found.get(cook) for cook in cooks[one.key])
        if as_is is not None and so is not None:
            shifts[one.key] = _shift(one, scene, as_is, so)
    return shifts


def _shift(one: OnPit, scene: Scene, as_is: Estimate, so: Estimate) -> float:
    """The change of what is left, in the middle of the members still on, laid on what is likely left now."""
    elapsed, left = one.minutes(scene.now), one.minutes(one.pull.p50) - one.minutes(scene.now)
    on = as_is.member_minutes > elapsed + 1.0
    if not on.any() or left <= 0:
        return 0.0
    ratio = (so.member_minutes[on] - elapsed) / (as_is.member_minutes[on] - elapsed)
    return float(left * (1.0 - np.median(np.maximum(ratio, 0.0))))


def _pull(scene: Scene, answer: Estimate, base: Estimate, seed: int) -> Span:
    """Minutes from loading to the pull, given the readings, or else that it is not done yet."""
    if scene.load.taken:
        span: Span = revise(answer, scene.load.taken, seed=seed)
    else:
        on = base.member_minutes > scene.elapsed
        span = span_of(answer.member_minutes[on] if on.any() else answer.member_minutes)
    return Span(*(max(minutes, scene.elapsed) for minutes in (span.p10, span.p50, span.p90)))


def _remedy(scene: Scene, one: Candidate, pull: Span) -> Remedy:
    """The ready time after the pull, and the chance that it is in time."""
    after = one.after_minutes
    minutes = Span(pull.p10 + after, pull.p50 + after, pull.p90 + after)
    ready = TimeSpan.after(scene.load.on_at, minutes)
    return Remedy(one.action, ready, _chance(scene, ready, after), one.costs)


def _chance(scene: Scene, ready: TimeSpan, after: float) -> float:
    """What comes after the pull is certain: only the pull's own span counts."""
    rest = timedelta(minutes=after)
    pull = TimeSpan(ready.p10 - rest, ready.p50 - rest, ready.p90 - rest)
    return chance_by(pull, scene.load.due - rest, scene.now)
