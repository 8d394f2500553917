"""The planner's slots, and who is there in them."""

import math
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from board.house.calendar import break_turns
from board.house.model import Break, Recurrence, Shift, StepRule, Work
from board.house.spans import Span
from board.planning.cook_times import CookTime
from board.planning.crew import crew_on, somewhere_before, throughout
from board.planning.grid import Grid, slots_down, slots_up, stretches
from board.planning.windows import Outset, gap_slots, lead_slots

FLAGS = st.lists(st.booleans(), min_size=1, max_size=40).map(lambda xs: np.array(xs, dtype=bool))


@given(st.floats(0, 5000))
def test_slots_cover_and_fit(minutes):
    """Slots up cover the minutes, slots down fit into them, and they differ by one at most."""
    assert slots_down(minutes) * 5 <= minutes + 1e-6
    assert slots_up(minutes) * 5 >= minutes - 1e-6
    assert slots_up(minutes) - slots_down(minutes) in {0, 1}


def test_a_slot_is_elapsed_time_through_a_clock_change():
    """From 00:00 to 06:00 by the clock on 8 March 2026 in Chicago is five hours of slots."""
    grid = Grid(datetime(2026, 3, 8, 6, 0, tzinfo=UTC), 200)
    assert grid.floor(datetime(2026, 3, 8, 11, 0, tzinfo=UTC)) == 60
    assert grid.moment(60) - grid.moment(0) == timedelta(hours=5)


@given(FLAGS, st.integers(0, 8))
def test_throughout_is_all_of_a_stretch(flags, size):
    """The quick count of whole stretches agrees with looking at each."""
    slow = [t + size <= len(flags) and bool(flags[t : t + size].all()) for t in range(len(flags))]
    assert throughout(flags, size).tolist() == (slow if size else [True] * len(flags))


@given(FLAGS, st.integers(0, 10), st.integers(0, 10))
def test_somewhere_before_is_any_in_the_gap(flags, shortest, more):
    """The quick search for a start within a gap agrees with looking at each."""
    longest = shortest + more
    slow = [
        any(flags[t] for t in range(max(0, u - longest), max(0, u - shortest + 1)) if t < len(flags))
        for u in range(len(flags))
    ]
    assert somewhere_before(flags, shortest, longest).tolist() == slow


@given(FLAGS)
def test_stretches_join_up_to_the_whole(flags):
    """Stretches of equal flags cover every slot once, in order."""
    rebuilt = [bool(on) for _, size, on in stretches(flags) for _ in range(size)]
    assert rebuilt == flags.tolist()


def test_the_crew_is_there_when_its_shifts_say(two_fires):
    """At noon by the house's clock two are on shift; at midnight one."""
    grid = Grid(datetime(2026, 6, 10, 0, 0, tzinfo=UTC), 400)
    count = crew_on(two_fires, grid).count
    assert count[grid.floor(datetime(2026, 6, 10, 17, 0, tzinfo=UTC))] == 2
    assert count[grid.floor(datetime(2026, 6, 10, 5, 0, tzinfo=UTC))] == 1


PEOPLE = ("abe", "dot", "nan")


@given(
    st.integers(1, 3),
    st.integers(60, 15 * 60),
    st.lists(st.tuples(st.integers(0, 240), st.integers(5, 60)), min_size=1, max_size=3),
)
def test_breaks_are_taken_in_turn_and_nobody_works_through_one(two_fires, count, minutes, gaps):
    """Everyone has every break, inside the shift and away; two go at once only for want of time."""
    breaks, at = [], 0.0
    for gap, lasts in gaps:
        breaks.append(Break(at + gap, lasts))
        at += gap + lasts
    minutes = max(minutes, at)
    when = Recurrence(date(2026, 6, 10), time(6), minutes)
    shift = Shift("day", "day", PEOPLE[:count], when, tuple(breaks))
    house = replace(two_fires, shifts=(shift,))
    grid = Grid(datetime(2026, 6, 10, 5, 0, tzinfo=UTC), 400)
    crew, first = crew_on(house, grid), grid.floor(datetime(2026, 6, 10, 11, 0, tzinfo=UTC))
    ids = [person.id for person in crew.people]
    turns = break_turns(shift)
    assert sorted((person, lasts) for person, _, lasts in turns) == sorted(
        (person, float(pause.minutes)) for person in shift.people for pause in breaks
    )
    for person, after, lasts in turns:
        assert after + lasts <= minutes + 1e-6
        away = slice(first + math.floor(after / 5), first + math.ceil((after + lasts) / 5))
        assert not crew.present[ids.index(person), away].any()
    ends = [*(pause.after_minutes for pause in breaks[1:]), minutes]
    if all(count * p.minutes <= end - p.after_minutes for p, end in zip(breaks, ends, strict=True)):
        spans = sorted((after, after + lasts) for _, after, lasts in turns)
        assert all(a[1] <= b[0] + 1e-6 for a, b in pairwise(spans))


def test_the_second_goes_when_the_first_is_back(two_fires):
    """Abe from 09:30 to 10:00 by the clock, Dot from 10:00: by hand from a shift at 05:30 and 4 h."""
    day = next(s for s in two_fires.shifts if s.id == "day")
    house = replace(two_fires, shifts=(replace(day, breaks=(Break(240.0, 30.0),)),))
    grid = Grid(datetime(2026, 6, 10, 0, 0, tzinfo=UTC), 400)
    crew = crew_on(house, grid)
    rows = {person.id: i for i, person in enumerate(crew.people)}
    half_past_nine, ten = (grid.floor(datetime(2026, 6, 10, 14, m, tzinfo=UTC)) for m in (30, 59))
    assert not crew.present[rows["abe"], half_past_nine]
    assert crew.present[rows["dot"], half_past_nine]
    assert crew.present[rows["abe"], ten + 1]
    assert not crew.present[rows["dot"], ten + 1]
    assert crew.count[half_past_nine - 1] == 2


@given(st.floats(30, 900), st.floats(0.5, 0.99), st.floats(1.01, 2), st.floats(0.02, 0.98))
def test_chance_and_quantile_are_each_others_inverse(p50, down, up, q):
    """The share done within the q-quantile is q, and the three told quantiles are met exactly."""
    time = CookTime(Span(p50 * down, p50, p50 * up), None)
    assert abs(time.chance(time.quantile(q)) - q) < 1e-6
    assert abs(time.quantile(0.9) - p50 * up) < 1e-6 * p50
    assert abs(time.quantile(0.1) - p50 * down) < 1e-6 * p50


def test_a_longest_gap_counts_from_the_end_of_the_work_not_of_its_slots():
    """Raw meat waits no longer than its rule says, however little of its last slot a step takes.

    By hand: seven minutes' work holds two slots and leaves three minutes of the second; with the longest
    gap of 30 minutes only five whole slots, 28 minutes in all, may follow. Ten minutes' work leaves none.
    """
    odd = StepRule("rub", Work(7.0), (10.0, 30.0))
    assert gap_slots(odd, 1) == (2, 5)
    assert gap_slots(replace(odd, work=Work(10.0)), 1) == (2, 6)
    assert lead_slots((odd,), 1) == (2 + 2, 2 + 5)


def test_a_batch_made_already_is_not_used_before_it_is_ready():
    """Also where a plan has no now, or now lies before all it asks: by hand, ready from slot 40 on."""
    for earliest, soonest in ((0, 40), (25, 40), (50, 50)):
        assert Outset(earliest, {"brine": 24}).having({"brine": 40}).first("brine") == soonest
    assert Outset(0, {"brine": 24}).first("brine") == 0
    assert Outset(25, {"brine": 24}).first("brine") == 49
