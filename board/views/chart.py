"""One load's core over the hours, as data: what was read, what was expected, and the span ahead."""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from board.house.spans import TimeSpan
from board.views.fed import Gap
from board.views.progress import Risk

Point = tuple[datetime, float]
Line = tuple[Point, ...]

HEADROOM_K = 6.0  # over the hottest core a chart shows


@dataclass(frozen=True, slots=True)
class Read:
    """One reading of a core, °C; `counts` is false for one left out of the sum; `fed` by a probe."""

    at: datetime
    core_c: float
    counts: bool = True
    fed: bool = False


@dataclass(frozen=True, slots=True)
class Ahead:
    """From the last reading to the pull: the soonest, middle and latest course, eight cooks in ten."""

    soonest: Line
    middle: Line
    latest: Line


@dataclass(frozen=True, slots=True)
class Stretch:
    """A named stretch of time, such as the stall."""

    start: datetime
    end: datetime
    name: str


@dataclass(frozen=True, slots=True)
class Moment:
    """A named moment; `faint` for one that is expected and asks nothing of anybody."""

    at: datetime
    name: str
    faint: bool = False


@dataclass(frozen=True, slots=True)
class Air:
    """The pit's air as read but for gaps, what was asked of it, and how far it may swing, °C."""

    read: Line
    asked_c: float
    band_c: float
    gaps: tuple[Gap, ...] = ()


@dataclass(frozen=True, slots=True)
class Chart:
    """A load's core over the hours; cores in °C. A cook that is only asked about has no now nor need.

    `course` is what was expected of it from loading to the pull, `so_far` its core as read, straight
    between the readings that count; in `gaps` the probe that fed them was silent.
    """

    start: datetime
    end: datetime
    now: datetime | None
    low_c: float
    high_c: float
    pull_c: float
    needed_at: datetime | None
    risk: Risk
    so_far: Line = ()
    reads: tuple[Read, ...] = ()
    course: Line = ()
    ahead: Ahead | None = None
    stall: Stretch | None = None
    moments: tuple[Moment, ...] = ()
    air: Air | None = None
    gaps: tuple[Gap, ...] = ()


def is_in(gaps: Sequence[Gap], moment: datetime) -> bool:
    """Whether a moment lies in one of some gaps, their ends not in them."""
    return any(start < moment < end for start, end in gaps)


def value_at(line: Sequence[Point], moment: datetime) -> float | None:
    """A line's value at a moment; None outside it."""
    if not line or not line[0][0] <= moment <= line[-1][0]:
        return None
    after = bisect_left(line, moment, key=lambda point: point[0])
    (t1, c1) = line[after]
    if t1 == moment or after == 0:
        return c1
    (t0, c0) = line[after - 1]
    return c0 + (c1 - c0) * ((moment - t0) / (t1 - t0))


def moment_of(line: Sequence[Point], core_c: float) -> datetime | None:
    """When a rising line first comes to a core; None where it does not."""
    for (t0, c0), (t1, c1) in pairwise(line):
        if c1 >= core_c:
            part = 0.0 if c0 >= core_c or c1 == c0 else (core_c - c0) / (c1 - c0)
            return t0 + (t1 - t0) * part
    return None


def ahead_of(course: Sequence[Point], last: Point, pull: TimeSpan) -> Ahead | None:
    """What is expected after a last core, ending at the likely pull times.

    The shape is what is left of the expected course from that core on, drawn out or together in time. None
    where nothing is left or the pull is not ahead.
    """
    at, core_c = last
    if pull.p90 <= at or len(course) < 2:
        return None
    rest = _rest(course, core_c)
    if len(rest) < 2:
        return None
    (begin, first), (end, _) = rest[0], rest[-1]

    def until(finish: datetime) -> Line:
        length = max(finish - at, timedelta(minutes=1))
        lift = core_c - first
        return tuple(
            (at + length * ((t - begin) / (end - begin)), c + lift * (1 - (t - begin) / (end - begin)))
            for t, c in rest
        )

    return Ahead(until(pull.p10), until(pull.p50), until(pull.p90))


def _rest(course: Sequence[Point], core_c: float) -> list[Point]:
    """The course from a core on; from its last fiftieth where the core is past it all."""
    begin = moment_of(course, core_c)
    if begin is None or begin >= course[-1][0]:
        begin = course[-1][0] - (course[-1][0] - course[0][0]) / 50
    start = value_at(course, begin)
    assert start is not None
    return [(begin, start), *(point for point in course if point[0] > begin)]
