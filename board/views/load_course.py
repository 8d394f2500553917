"""What the sums expect of one load: its course, its stall and the account of its number, as plain data."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from typing import TYPE_CHECKING

from board.errors import BoardError
from board.house.spans import Span, TimeSpan
from board.planning.plan import Plan, PlannedLoad
from board.views.chart import Line
from board.views.cook_account import heavier_kg, hotter_k, tables
from board.views.expecting import expected_of
from board.views.facts import Facts, find_load, load_state
from board.views.pit_history import air_summed, pit_of
from board.views.reference import parts
from board.views.table import Table
from board.views.turning import turn_ahead

if TYPE_CHECKING:
    from board.cooking.cook import Estimate

_THINNED = 240  # points of a course at most: more than any screen has columns
Known = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class LoadCourse:
    """One load as the sums see it: the core's expected course, wrap and stall, and why it takes so long.

    `why_read` is the account once readings have narrowed the cook to a span of minutes.
    """

    course: Line
    stall: tuple[datetime, datetime] | None
    wrap: TimeSpan | None
    why: tuple[Table, ...]
    why_read: Callable[[Span], tuple[Table, ...]] | None = None


def known_of(facts: Facts, key: str) -> Known:
    """What a load's course depends on: it needs no new sum while this stays the same."""
    day, id = parts(key)
    plan = facts.plans.get(day)
    load = find_load(plan, id)
    if plan is None or load is None:
        return ()
    state = load_state(facts, load, day)
    return (
        load,
        state.on_at,
        state.wrapped_at,
        state.pulled_at,
        state.moved_at,
        state.zone,
        turn_ahead(facts, plan, load),
        facts.asked.get(pit_of(facts, load, state), ()),
        tuple(r.key for r in air_summed(facts, load, state)),
    )


def course_of(facts: Facts, key: str) -> LoadCourse | None:
    """A load's course, from its marks and its pit's air so far; None for one the sums do not know.

    Takes the better part of a second.
    """
    day, id = parts(key)
    plan = facts.plans.get(day)
    load = find_load(plan, id)
    if plan is None or load is None:
        return None
    try:
        return _course(facts, plan, load)
    except BoardError:
        return None


def _course(facts: Facts, plan: Plan, load: PlannedLoad) -> LoadCourse | None:
    from board.cooking.account.account import account  # noqa: PLC0415 - arrays load at the first page
    from board.views.revising import cook_now  # noqa: PLC0415

    if load.cut not in facts.house.cuts or load.pit not in facts.house.pits:
        return None
    cook = cook_now(facts, plan, load)
    expected = expected_of([cook]).get(cook)
    if expected is None or expected.curve is None:
        return None
    display = facts.house.display
    found = account(cook, expected, hotter_k=hotter_k(display), heavier_kg=heavier_kg(cook, display))
    begun = load_state(facts, load, plan.day).on_at or load.load_at
    return LoadCourse(
        course=_line(begun, expected),
        stall=_stall(begun, expected),
        wrap=TimeSpan.after(begun, expected.wrap_minutes) if expected.wrap_minutes else None,
        why=tables(found, cook, display),
        why_read=partial(tables, found, cook, display),
    )


def _line(begun: datetime, expected: "Estimate") -> Line:
    """The middle core from loading to the middle pull, thinned."""
    assert expected.curve is not None
    minutes, cores = expected.curve.minutes.tolist(), expected.curve.core_p50.tolist()
    upto = max(2, sum(1 for minute in minutes if minute <= expected.minutes.p50))
    every = max(1, upto // _THINNED)
    kept = sorted({*range(0, upto, every), upto - 1})
    return tuple((begun + timedelta(minutes=minutes[i]), cores[i]) for i in kept)


def _stall(begun: datetime, expected: "Estimate") -> tuple[datetime, datetime] | None:
    stall = expected.stall
    if stall is None:
        return None
    return begun + timedelta(minutes=stall.from_minute), begun + timedelta(minutes=stall.to_minute)
