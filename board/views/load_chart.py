"""A load's chart from its marks, its readings and what the sums expect of it."""

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta

from board.ledger.state import LoadState, Reading, ReadingKey
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.chart import HEADROOM_K, Ahead, Air, Chart, Line, Moment, Read, Stretch, ahead_of
from board.views.facts import Facts, load_state
from board.views.fed import gaps_in, line_of
from board.views.load_course import LoadCourse
from board.views.pit_history import air_readings, pit_of
from board.views.progress import Progress
from board.views.turning import turn_ahead, turned_at

_MARGIN = timedelta(minutes=20)
_LONGEST_AFTER = timedelta(hours=5)  # from the latest likely ready to the chart's end


def chart_of(
    facts: Facts,
    plan: Plan,
    load: PlannedLoad,
    likely: Progress,
    *,
    course: LoadCourse | None,
    left_out: Collection[ReadingKey] = (),
    struck: Sequence[Reading] = (),
) -> Chart | None:
    """The chart of a load; None for one whose cut the house does not know.

    `left_out` are the keys of readings that do not count, `struck` what probes fed and somebody struck.
    """
    cut = facts.house.cuts.get(load.cut)
    if cut is None:
        return None
    state = load_state(facts, load, plan.day)
    readings = facts.readings.get((plan.day, load.id), ())
    reads = [Read(r.at, r.temperature_c, r.key not in left_out, r.probe is not None) for r in readings]
    reads += [Read(r.at, r.temperature_c, counts=False, fed=True) for r in struck]
    counts = [r for r in readings if r.key not in left_out]
    so_far = _so_far(counts, state, cut.start_c)
    return Chart(
        start=state.on_at or load.load_at,
        end=_end(load, likely, facts.now),
        now=facts.now,
        low_c=min(cut.start_c, 0.0),
        high_c=max(cut.pull_core_c, *(r.temperature_c for r in counts), 0.0) + HEADROOM_K,
        pull_c=cut.pull_core_c,
        needed_at=load.needed_at,
        risk=likely.risk,
        so_far=so_far,
        reads=tuple(reads),
        course=course.course if course else (),
        ahead=_ahead(course, so_far, state, likely),
        stall=Stretch(*course.stall, "stall") if course and course.stall else None,
        moments=tuple(_moments(facts, plan, load, likely, course)),
        air=_air(facts, load, state),
        gaps=tuple(gaps_in(facts.house, counts)),
    )


def _end(load: PlannedLoad, likely: Progress, now: datetime) -> datetime:
    """Until it is needed, or well past its latest likely moment where that is far off."""
    latest = max(likely.ready.p90, now)
    return max(latest, min(load.needed_at, latest + _LONGEST_AFTER)) + _MARGIN


def _so_far(counts: Sequence[Reading], state: LoadState, start_c: float) -> Line:
    """From loading through the readings that count."""
    if state.on_at is None or not counts:
        return ()
    return ((state.on_at, start_c), *(point for point in line_of(counts) if point[0] > state.on_at))


def _ahead(course: LoadCourse | None, so_far: Line, state: LoadState, likely: Progress) -> Ahead | None:
    """From the last reading, or from loading, to the likely pull; nothing once it is off."""
    if course is None or not course.course or state.pulled_at is not None:
        return None
    return ahead_of(course.course, so_far[-1] if so_far else course.course[0], likely.pull)


def _moments(
    facts: Facts, plan: Plan, load: PlannedLoad, likely: Progress, course: LoadCourse | None
) -> list[Moment]:
    """The load's own moments: wrapped, turned, pulled, ready; those still to come where they are likely."""
    state, found = load_state(facts, load, plan.day), _turn(facts, plan, load)
    expected = course.wrap.p50 if course and course.wrap else load.wrap_at
    if state.wrapped_at is not None:
        found.append(Moment(state.wrapped_at, "wrapped"))
    elif expected is not None and state.pulled_at is None:
        found.append(Moment(expected, "wrap", faint=True))
    if state.pulled_at is not None:
        found.append(Moment(state.pulled_at, "pulled"))
    else:
        found.append(Moment(likely.pull.p50, "pull"))
    return [*found, Moment(likely.ready.p50, "ready", faint=True)]


def _turn(facts: Facts, plan: Plan, load: PlannedLoad) -> list[Moment]:
    """When its pit is brought to another setpoint with it on, or was."""
    ahead, done = turn_ahead(facts, plan, load), turned_at(facts, plan, load)
    at = ahead.at if ahead else done
    if at is None or load.then_c is None:
        return []
    return [Moment(at, f"pit {names.degrees(facts.house, load.then_c)}")]


def _air(facts: Facts, load: PlannedLoad, state: LoadState) -> Air | None:
    """The pit's air as read since the load went on."""
    pit = facts.house.pits.get(pit_of(facts, load, state))
    if pit is None or state.on_at is None:
        return None
    read = air_readings(facts, load, state)
    line = tuple((r.at, r.temperature_c) for r in read)
    asked = [celsius for _, celsius in facts.asked.get(pit.id, ())]
    return Air(
        line, asked[-1] if asked else load.setpoint_c, pit.control_band_c, tuple(gaps_in(facts.house, read))
    )
