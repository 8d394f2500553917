"""When a load is likely done and ready, given what has been marked and measured so far."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import IntEnum

from board.house.spans import TimeSpan, minutes_between
from board.ledger.state import LoadStage, LoadState, ReadingKey
from board.planning.plan import PlannedLoad

_ZERO = timedelta(0)
_PROBE_C = 0.5  # a core read in whole degrees may be this much under what is shown


class Risk(IntEnum):
    """How a load stands against when it is needed."""

    IN_TIME = 0
    MAYBE_LATE = 1
    LATE = 2


@dataclass(frozen=True, slots=True)
class Progress:
    """A load's likely times now; `spare_minutes` counts the finishing work, negative is late.

    `guess` says why the times are no more than that, `core_c` is the last core that counts, `left_out` are
    the entries of readings that do not.
    """

    pull: TimeSpan
    ready: TimeSpan
    spare_minutes: float
    risk: Risk
    guess: str | None = None
    core_c: float | None = None
    left_out: frozenset[ReadingKey] = frozenset()


@dataclass(frozen=True, slots=True)
class LikelyPull(TimeSpan):
    """When a load is likely pulled; `warning` says why that is only a guess.

    `left_out` are its readings that do not count: their keys, and the reason in words.
    """

    warning: str | None = None
    left_out: tuple[tuple[ReadingKey, str], ...] = ()


Revised = Mapping[str, TimeSpan]
"""Pull times revised by readings, keyed by load id, where these have been computed."""


def left_out_of(revised: Revised | None, load: str) -> dict[ReadingKey, str]:
    """A load's readings that do not count, by their key, each with its reason."""
    pull = (revised or {}).get(load)
    return dict(pull.left_out) if isinstance(pull, LikelyPull) else {}


def progress(
    load: PlannedLoad,
    state: LoadState,
    now: datetime,
    revised: Revised | None = None,
    aim_c: float | None = None,
) -> Progress:
    """The likely pull and ready times of one load at one moment.

    A load not yet on keeps the plan's times, moved by as much as it is overdue; a load on the pit is
    moved by how late it went on, or takes the times revised from its readings, and is done when its
    core was read at its aim; a pulled load is ready when it has rested.
    """
    pull = _pull(load, state, now, revised or {}, aim_c)
    ready = _ready(load, state, pull)
    due = due_by(load)
    spare, least = minutes_between(ready.p50, due), minutes_between(ready.p90, due)
    risk = Risk.LATE if spare < 0 else Risk.MAYBE_LATE if least < 0 else Risk.IN_TIME
    return Progress(
        pull,
        ready,
        spare,
        risk,
        guess=_guess(load, state, pull, revised or {}),
        core_c=state.last_core_c,
        left_out=frozenset(left_out_of(revised, load.id)),
    )


def _guess(load: PlannedLoad, state: LoadState, pull: TimeSpan, revised: Revised) -> str | None:
    """Why the pull is only a guess, where it is still ahead and was revised."""
    found = revised.get(load.id)
    ahead = state.pulled_at is None and pull.p10 < pull.p90
    return found.warning if ahead and isinstance(found, LikelyPull) else None


def due_by(load: PlannedLoad) -> datetime:
    """When a load must be ready: its need less its finishing work."""
    finishing = (load.needed_at - load.ready_at.p50) - timedelta(minutes=load.spare_minutes_p50)
    return load.needed_at - max(_ZERO, finishing)


def _pull(
    load: PlannedLoad, state: LoadState, now: datetime, revised: Revised, aim_c: float | None
) -> TimeSpan:
    if state.pulled_at is not None:
        return TimeSpan(state.pulled_at, state.pulled_at, state.pulled_at)
    if state.on_at is None:
        return _moved(load.pull_at, max(_ZERO, now - load.load_at))
    if aim_c is not None and state.last_core_c is not None and state.last_core_c >= aim_c - _PROBE_C:
        return TimeSpan(now, now, now)
    likely = revised.get(load.id) or _moved(load.pull_at, state.on_at - load.load_at)
    return _not_before(likely, now)


def _ready(load: PlannedLoad, state: LoadState, pull: TimeSpan) -> TimeSpan:
    rested = TimeSpan(
        pull.p10 + (load.ready_at.p10 - load.pull_at.p10),
        pull.p50 + (load.ready_at.p50 - load.pull_at.p50),
        pull.p90 + (load.ready_at.p90 - load.pull_at.p90),
    )
    if state.stage in (LoadStage.HOLDING, LoadStage.SERVED) and state.since is not None:
        return TimeSpan(*(min(moment, state.since) for moment in (rested.p10, rested.p50, rested.p90)))
    if state.pulled_at is not None:
        return TimeSpan(rested.p50, rested.p50, rested.p50)
    return rested


def _moved(span: TimeSpan, by: timedelta) -> TimeSpan:
    return TimeSpan(span.p10 + by, span.p50 + by, span.p90 + by)


def _not_before(span: TimeSpan, now: datetime) -> TimeSpan:
    """What has not happened yet cannot lie in the past."""
    return TimeSpan(max(span.p10, now), max(span.p50, now), max(span.p90, now))


def warmth(core_c: float, start_c: float, pull_c: float) -> float:
    """How far a core has come from its start to its aim, 0 to 1."""
    return min(1.0, max(0.0, (core_c - start_c) / max(1.0, pull_c - start_c)))


def curve(
    readings: Sequence[tuple[datetime, float]], on_at: datetime, now: datetime, start_c: float, columns: int
) -> tuple[float, ...]:
    """The core from loading until now in so many points, straight between readings; empty without any."""
    if not readings:
        return ()
    points = [(on_at, start_c), *sorted(readings)]
    length = (now - on_at) / columns
    return tuple(_between(points, on_at + length * (column + 1)) for column in range(columns))


def _between(points: Sequence[tuple[datetime, float]], moment: datetime) -> float:
    before = [p for p in points if p[0] <= moment]
    after = [p for p in points if p[0] > moment]
    if not before or not after:
        return (before or after)[-1 if before else 0][1]
    (t0, c0), (t1, c1) = before[-1], after[0]
    return c0 + (c1 - c0) * ((moment - t0) / (t1 - t0))
