"""The sieve: which readings of a core count, why the others do not, and that honest ones are kept."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.cooking.cook import AirCurve, Cook, Estimate, PitAir
from board.cooking.estimate import estimate
from board.cooking.readings.paths import to_the_end
from board.cooking.readings.sieve import Limits, Sieved, Why, limits_of, sieve
from board.house.library import library_cut
from board.house.model import PitKind

Readings = list[tuple[float, float]]

BRISKET = Cook(library_cut("brisket"), 6.5, 1, PitAir.usual(PitKind.OFFSET), 118.0, 94.0)
HALF_HOURS = np.arange(30.0, 450.0, 30.0)


@pytest.fixture(scope="module")
def expected() -> Estimate:
    """What was expected of the brisket."""
    return estimate([BRISKET], members=96, curves=True)[0]


@pytest.fixture(scope="module")
def limits(expected: Estimate) -> Limits:
    """The bounds of the brisket's core."""
    return limits_of(BRISKET, expected)


def honest(limits: Limits, minutes: np.ndarray = HALF_HOURS) -> Readings:
    """The middle member's core, read every half hour for seven hours, in tenths."""
    return list(zip(minutes.tolist(), np.round(limits.usual(minutes), 1).tolist(), strict=True))


def only(found: Sieved) -> tuple[float, Why]:
    """The one reading left out, its minute and why."""
    assert len(found.left_out) == 1, found.left_out
    return found.left_out[0].minute, found.left_out[0].why


def test_honest_readings_all_count(limits: Limits) -> None:
    """A core that rises as cores do has nothing left out."""
    found = sieve(limits, honest(limits))
    assert found.kept == tuple(honest(limits))
    assert found.left_out == ()


def test_a_reading_of_nobody_knows_when_is_left_out(limits: Limits) -> None:
    """However well it fits: its minute is a guess. The others count as before."""
    readings = honest(limits)
    found = sieve(limits, readings, untimed={3})
    assert only(found) == (readings[3][0], Why.CLOCK)
    assert found.kept == tuple(readings[:3] + readings[4:])


@pytest.mark.parametrize(
    ("minute", "core_c", "why"),
    [
        (-30.0, 4.0, Why.BEFORE),
        (5000.0, 60.0, Why.AHEAD),
        (350.0, float("nan"), Why.NO_READING),
        (350.0, 999.0, Why.NO_READING),
        (350.0, 118.0, Why.PIT_AIR),
        (350.0, 22.0, Why.ROOM_AIR),
        (350.0, 104.9, Why.PIT_AIR),
        (350.0, 160.0, Why.ABOVE_BOILING),
        (0.0, 40.0, Why.NOT_THE_START),
        (10.0, 60.0, Why.NOT_COLDEST),
        (350.0, -8.0, Why.BELOW_START),
    ],
)
def test_a_wild_reading_is_left_out_and_named(limits: Limits, minute: float, core_c: float, why: Why) -> None:
    """One reading no core of the cook can give is left out under its likeliest fault; all others count."""
    found = sieve(limits, [*honest(limits), (minute, core_c)], now=4000.0)
    assert found.kept == tuple(honest(limits))
    assert [one.why for one in found.left_out] == [why]


@pytest.mark.parametrize("place", [2, 6, 13])
def test_fahrenheit_typed_as_celsius_is_known(limits: Limits, place: int) -> None:
    """A core typed in °F but kept as °C is left out, with what it means in °C."""
    readings = honest(limits)
    minute, true_c = readings[place]
    readings[place] = (minute, round(true_c * 1.8 + 32.0, 1))
    found = sieve(limits, readings)
    assert only(found) == (minute, Why.FAHRENHEIT)
    assert found.left_out[0].meant_c == pytest.approx(true_c, abs=0.1)


@pytest.mark.parametrize("place", [4, 8, 13])
def test_celsius_typed_as_fahrenheit_is_known(limits: Limits, place: int) -> None:
    """A core typed in °C on a board that takes °F is left out, with what it means."""
    readings = honest(limits)
    minute, true_c = readings[place]
    readings[place] = (minute, round((true_c - 32.0) / 1.8, 1))
    found = sieve(limits, readings)
    assert only(found) == (minute, Why.CELSIUS)
    assert found.left_out[0].meant_c == pytest.approx(true_c, abs=0.1)


@pytest.mark.parametrize(
    ("why", "typed"),
    [
        (Why.FAHRENHEIT, lambda core_c: round(core_c * 1.8 + 32.0)),
        (Why.CELSIUS, lambda core_c: (round(core_c) - 32.0) / 1.8),
    ],
)
def test_a_cook_typed_in_the_other_scale_throughout_counts_for_nothing(
    limits: Limits, why: Why, typed: Callable[[float], float]
) -> None:
    """Who types the other scale all night makes no quick or slow cook: each reading is named and meant so."""
    true = honest(limits, np.arange(60.0, 500.0, 60.0))
    found = sieve(limits, [(minute, typed(core_c)) for minute, core_c in true])
    assert found.kept == ()
    assert {one.why for one in found.left_out} == {why}
    assert [one.meant_c for one in found.left_out] == pytest.approx([core_c for _, core_c in true], abs=0.6)


def test_a_slow_core_read_for_a_short_while_is_no_other_scale(limits: Limits) -> None:
    """Three cores of 27 °C after six hours are slow, and 27 °C taken for °F only if they went on so."""
    slow = [(360.0, 26.8), (370.0, 27.4), (380.0, 28.0)]
    assert bool(limits.within(np.array([360.0]), np.array([27.0 * 1.8 + 32.0]))[0])
    assert sieve(limits, slow).left_out == ()


def test_a_few_typed_in_the_other_scale_leave_the_rest(limits: Limits) -> None:
    """Where half are right, those count and the others are named."""
    readings = honest(limits)
    mixed = [(m, round(c * 1.8 + 32.0, 1)) if i % 2 else (m, c) for i, (m, c) in enumerate(readings)]
    assert sieve(limits, mixed).kept == tuple(readings[::2])


def test_after_the_pull_nothing_counts(limits: Limits) -> None:
    """Once the load is off its pit, a reading tells of the rest and not of the cook."""
    assert only(sieve(limits, honest(limits), pulled=419.0)) == (420.0, Why.AFTER)


def test_the_same_digits_at_once_were_entered_twice(limits: Limits) -> None:
    """Enter pressed twice gives one reading; the same digits minutes later are a reading of their own."""
    readings = honest(limits)
    minute, core_c = readings[5]
    assert only(sieve(limits, [*readings, (minute + 0.2, core_c)])) == (minute + 0.2, Why.TWICE)
    assert sieve(limits, [*readings, (minute + 5.0, core_c)]).left_out == ()


def test_of_two_at_one_moment_the_lower_counts(limits: Limits) -> None:
    """Two probes at once: the load waits for the colder."""
    readings = honest(limits)
    minute, core_c = readings[5]
    assert only(sieve(limits, [*readings, (minute, core_c + 2.0)])) == (minute, Why.TWO_AT_ONCE)


def test_high_then_low_for_good_was_not_the_middle(limits: Limits) -> None:
    """A probe at the bone reads high; when two later ones agree on less, the core is the colder place."""
    readings = honest(limits)
    high = [
        (minute, core_c + 18.0) if i in (9, 10) else (minute, core_c)
        for i, (minute, core_c) in enumerate(readings)
    ]
    found = sieve(limits, high)
    assert [one.minute for one in found.left_out] == [readings[9][0], readings[10][0]]
    assert {one.why for one in found.left_out} == {Why.NOT_COLDEST}


def test_one_low_reading_waits_for_another(limits: Limits) -> None:
    """A single drop is left out; a second reading as low makes it the core, and the higher ones are not."""
    readings = honest(limits)[:10]
    minute, core_c = readings[-1]
    dropped = (minute + 10.0, core_c - 12.0)
    assert only(sieve(limits, [*readings, dropped])) == (dropped[0], Why.DROP)
    again = (minute + 20.0, core_c - 11.0)
    found = sieve(limits, [*readings, dropped, again])
    assert dropped in found.kept
    assert again in found.kept
    assert {one.why for one in found.left_out} == {Why.NOT_COLDEST}


def test_a_probe_out_for_a_while_is_left_out(limits: Limits) -> None:
    """Three readings of the room while the probe lies on the table do not move the core."""
    readings = honest(limits)
    out = [(285.0, 25.0), (290.0, 24.0), (295.0, 24.5)]
    found = sieve(limits, [*readings, *out])
    assert found.kept == tuple(readings)
    assert {one.why for one in found.left_out} <= {Why.ROOM_AIR, Why.CELSIUS}


def test_a_stuck_probe_is_told(limits: Limits) -> None:
    """The same digits for hours early in the cook, while the slowest brisket rises, count once."""
    readings = honest(limits)[:2] + [(minute, 14.0) for minute in (100.0, 130.0, 160.0, 190.0, 220.0)]
    found = sieve(limits, readings)
    assert [one.why for one in found.left_out] == [Why.STUCK] * 4


def test_the_stall_is_no_stuck_probe(limits: Limits) -> None:
    """In the stall a core reads the same for an hour and more, and all of it counts."""
    readings = [*honest(limits)[:12], *((375.0 + 15.0 * n, 67.0) for n in range(6))]
    assert sieve(limits, readings).left_out == ()


def test_a_late_entry_counts_at_its_own_time(limits: Limits) -> None:
    """A reading written down after newer ones counts where it was taken."""
    late_first = honest(limits)[::-1]
    assert sieve(limits, late_first).kept == tuple(honest(limits))


def test_long_stretches_without_a_reading_are_told(limits: Limits) -> None:
    """Three hours without a reading are named, from and to."""
    readings = [one for one in honest(limits) if not 130.0 < one[0] < 310.0]
    assert sieve(limits, readings).gaps == ((120.0, 330.0),)


def test_a_core_may_fall_in_a_pit_gone_cold(expected: Estimate) -> None:
    """Where the pit's air was below the core, a fall of 8 K in an hour counts; on a warm pit it does not."""
    fire_out = AirCurve((0.0, 400.0, 420.0, 600.0), (118.0, 118.0, 50.0, 50.0))
    cold = limits_of(replace(BRISKET, air=fire_out), expected)
    warm = limits_of(BRISKET, expected)
    readings = [
        *honest(warm, np.arange(30.0, 421.0, 30.0)),
        (480.0, float(warm.usual(np.array([420.0]))[0]) - 8.0),
    ]
    assert sieve(cold, readings).left_out == ()
    assert sieve(warm, readings).left_out != ()


@pytest.mark.parametrize(
    "cook",
    [
        BRISKET,
        replace(BRISKET, setpoint_c=143.0),
        replace(BRISKET, setpoint_c=103.0),
        replace(BRISKET, mass_kg=3.5),
        replace(BRISKET, mass_kg=11.0),
        replace(BRISKET, start_c=9.0),
    ],
    ids=[
        "as said",
        "pit 25 K hot",
        "pit 15 K cold",
        "half as heavy",
        "twice as heavy",
        "warm from the cooler",
    ],
)
def test_honest_readings_of_an_odd_cook_are_kept(limits: Limits, cook: Cook) -> None:
    """Of whole-°F readings of 60 cooks unlike the one said, fewer than one in a hundred is left out."""
    truths = estimate([cook], members=60, seed=5, curves=True)[0]
    assert truths.paths is not None
    rng = np.random.default_rng(2)
    read = lost = 0
    for path, total in zip(to_the_end(truths.paths.core), truths.member_minutes, strict=True):
        minutes = np.arange(10.0, total, 10.0)
        core = np.interp(minutes, truths.paths.minutes, path) + rng.normal(0.0, 0.7, len(minutes))
        whole_f = (np.round(core * 1.8 + 32.0) - 32.0) / 1.8
        found = sieve(limits, list(zip(minutes.tolist(), whole_f.tolist(), strict=True)))
        read, lost = read + len(minutes), lost + len(found.left_out)
    assert lost < 0.01 * read


ANY_READING = st.tuples(
    st.one_of(st.floats(-60, 900), st.sampled_from([0.0, 60.0, 60.2, 300.0, float("nan"), float("inf")])),
    st.one_of(
        st.floats(-60, 400), st.integers(0, 100).map(float), st.sampled_from([float("nan"), 22.0, 118.0])
    ),
)


@cache
def few_members() -> Limits:
    """The brisket's bounds by few members, for the many examples of a property."""
    return limits_of(BRISKET, estimate([BRISKET], members=32, curves=True)[0])


@settings(deadline=None)
@given(st.lists(ANY_READING, max_size=14), st.integers(0, 2**32))
def test_sieving_is_a_partition_in_any_order(readings: Readings, shuffle: int) -> None:
    """Whatever is typed: nothing is lost, order of entry does not matter, and what is kept is kept again."""
    limits = few_members()
    found = sieve(limits, readings, now=600.0)
    places = [*found.kept_places, *(one.place for one in found.left_out)]
    assert sorted(places) == list(range(len(readings)))
    assert found.kept == tuple(readings[i] for i in found.kept_places)
    assert sieve(limits, found.kept, now=600.0).left_out == ()
    order = np.random.default_rng(shuffle).permutation(len(readings))
    assert sieve(limits, [readings[i] for i in order], now=600.0).kept == found.kept


def test_no_core_is_hotter_than_its_juice_boils_where_it_is() -> None:
    """At 2200 m juice boils at 92.6 °C: 97 °C is no core there, however quick the cook."""
    high = replace(BRISKET, until_core_c=90.0, altitude_m=2200.0)
    there = limits_of(high, estimate([high], members=32, curves=True)[0])
    assert [one.why for one in sieve(there, [(700.0, 96.5)]).left_out] == [Why.ABOVE_BOILING]
    assert sieve(there, [(700.0, 94.0)]).left_out == ()


def test_no_core_is_colder_than_it_went_on(limits: Limits) -> None:
    """A first reading of -6 °C of meat that went on at 4 °C is left out, with none beside to tell by."""
    assert only(sieve(limits, [(3.0, -6.0)])) == (3.0, Why.BELOW_START)
