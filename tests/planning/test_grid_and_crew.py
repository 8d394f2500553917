"""The planner's slots, and who is there in them."""

from datetime import UTC, datetime, timedelta

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from board.house.spans import Span
from board.planning.cook_times import CookTime
from board.planning.crew import crew_on, somewhere_before, throughout
from board.planning.grid import Grid, slots_down, slots_up, stretches

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


@given(st.floats(30, 900), st.floats(0.5, 0.99), st.floats(1.01, 2), st.floats(0.02, 0.98))
def test_chance_and_quantile_are_each_others_inverse(p50, down, up, q):
    """The share done within the q-quantile is q, and the three told quantiles are met exactly."""
    time = CookTime(Span(p50 * down, p50, p50 * up), None)
    assert abs(time.chance(time.quantile(q)) - q) < 1e-6
    assert abs(time.quantile(0.9) - p50 * up) < 1e-6 * p50
    assert abs(time.quantile(0.1) - p50 * down) < 1e-6 * p50
