"""Times of a wrong clock as the machine's count has them: known shifts, places in the order, what is told."""

from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.house.probes import Silence
from board.ledger import feeding, read, write
from board.ledger.checking import Right
from board.ledger.counted import counted, counted_between
from board.ledger.doubtful import clocks
from board.ledger.open import Ledger, create_ledger
from board.ledger.quiet import is_quiet
from board.ledger.state import LoadStage, Reading, WatchEnd, WatchKind
from board.ledger.watching import Watched
from board.probes.reading import Fed

from .by_hand import DAY, EVENING, ZONE
from .machine import Machine
from .test_write import BRISKET

HOUR = timedelta(hours=1)
SECOND, SHORT = timedelta(seconds=1), timedelta(minutes=10)
ALWAYS = Silence(30.0)


def rights(ledger: Ledger, machine: Machine, *minutes: float) -> None:
    """Notes by a clock that is right."""
    for passed in minutes:
        write.note(ledger, "right", **machine.said(passed))


def read_at(ledger: Ledger, machine: Machine, minutes: float, celsius: float = 4.0) -> None:
    """A reading of the walk-in so many minutes later, timed as it is written."""
    write.take_reading(ledger, celsius, place="walk-in", **machine.said(minutes))


def walk_in(ledger: Ledger) -> list[Reading]:
    """The walk-in's readings at the times that count."""
    return counted(ledger).readings(place="walk-in")


def test_where_no_clock_was_wrong_all_is_as_written(planned: Ledger) -> None:
    """Readings, loads and watches are the very ones that are read."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 30)
    read_at(planned, machine, 5)
    assert is_quiet(planned, 2)
    assert walk_in(planned) == read.readings(planned, place="walk-in")
    assert counted(planned).loads(read.load_states(planned, DAY)) == read.load_states(planned, DAY)


@pytest.mark.parametrize("error", [HOUR, -HOUR, timedelta(days=-9_000), timedelta(minutes=3)])
def test_within_a_boot_the_time_between_readings_is_what_passed(planned: Ledger, error: timedelta) -> None:
    """However far the clock was set, and back again, readings lie as far apart as they were taken."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 120)
    read_at(planned, machine, 1)
    machine.error = error
    read_at(planned, machine, 50)
    machine.error = timedelta(0)
    read_at(planned, machine, 40)
    rights(planned, machine, 300)
    first, second, third = walk_in(planned)
    assert (second.at - first.at, third.at - second.at) == (timedelta(minutes=50), timedelta(minutes=40))
    assert (first.is_doubtful, second.is_doubtful, third.is_doubtful) == (False, True, False)
    assert second.written_at == second.or_at == second.at + error
    assert not second.is_untimed
    assert {one.timing.boot for one in (first, second, third) if one.timing} == {"boot-1"}
    assert read.readings(planned, place="walk-in")[1 if error > timedelta(0) else 0].timing is None


def test_a_span_has_what_was_taken_in_it_whatever_its_clock_showed(planned: Ledger) -> None:
    """A reading written two hours behind is found where it belongs, and not where it was written."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    machine.error = -2 * HOUR
    read_at(planned, machine, 1)
    machine.error = timedelta(0)
    rights(planned, machine, 5, 300)
    taken = EVENING + timedelta(minutes=302)
    times = counted(planned)
    assert [one.at for one in times.readings(place="walk-in", since=taken - SHORT, until=taken + SHORT)] == [
        taken
    ]
    (kept,) = times.readings(place="walk-in", since=taken - 3 * HOUR, until=taken - HOUR)
    assert kept.written_at == taken - 2 * HOUR  # it may have been taken then after all
    assert times.readings(place="walk-in", since=taken + HOUR) == []


def test_of_a_clock_that_nobody_knows_an_entry_keeps_its_place_in_the_order(planned: Ledger) -> None:
    """No sooner than what a right clock wrote before it, no later than what one wrote after it."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    before = machine.true
    machine.boot, machine.booted, machine.error = "boot-2", machine.true, timedelta(days=-9_000)
    read_at(planned, machine, 20)
    read_at(planned, machine, 30)
    machine.boot, machine.booted, machine.error = "boot-3", machine.true, timedelta(0)
    rights(planned, machine, 40, 300)
    after = machine.true - timedelta(minutes=300)
    first, second = walk_in(planned)
    assert (first.at, second.at) == (before + SECOND, before + timedelta(minutes=30) + SECOND)
    assert (first.or_at, second.or_at) == (after - timedelta(minutes=30) - SECOND, after - SECOND)
    assert first.is_untimed
    assert [one.seq for one in counted_between(planned, EVENING, machine.true).readings(place="walk-in")] == [
        first.seq,
        second.seq,
    ]


def test_a_time_that_a_person_told_is_by_no_count(planned: Ledger) -> None:
    """Typed a quarter of an hour later, by a wall clock perhaps: it may be by either."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    machine.error = HOUR
    said = machine.said(20)
    write.take_reading(planned, 4.0, place="walk-in", **said | {"at": machine.shows - timedelta(minutes=15)})
    machine.error = timedelta(0)
    rights(planned, machine, 1, 300)
    (one,) = walk_in(planned)
    assert one.is_untimed
    assert one.or_at - one.at == HOUR


def test_what_is_put_right_counts_as_it_is_put(planned: Ledger) -> None:
    """One reading of two: it is doubtful no more, and by what a person said; the other is as before."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    machine.error = HOUR
    read_at(planned, machine, 10)
    read_at(planned, machine, 10)
    machine.error = timedelta(0)
    rights(planned, machine, 1, 300)
    doubt = clocks(planned).doubts[0]
    first, second = walk_in(planned)
    write.correct(planned, first.seq, Right(taken_at=first.at), **machine.said(1))
    again = walk_in(planned)
    assert [one.is_doubtful for one in again] == [False, True]
    assert [one.at for one in again] == [first.at, second.at]
    write.put_times_right(planned, doubt, HOUR, **machine.said(1))
    assert [(one.at, one.is_doubtful) for one in walk_in(planned)] == [(first.at, False), (second.at, False)]


def fed(ledger: Ledger, machine: Machine, probe: str, minutes: float, own_error: timedelta) -> None:
    """A probe's reading so many minutes later, by a clock of its own that is off by so much."""
    said = machine.said(minutes)
    one = Fed(probe, machine.true + own_error, 4.0, place="walk-in")
    feeding.take_fed(ledger, "stdin", [one], noted_at=said["noted_at"])  # type: ignore[arg-type]


def test_what_a_probe_timed_by_its_own_right_clock_is_left_as_it_is(planned: Ledger) -> None:
    """The machine's clock was an hour ahead; the gateway's was right, which the machine's count confirms."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    machine.error = HOUR
    fed(planned, machine, "own", 10, timedelta(0))
    fed(planned, machine, "none", 10, HOUR)
    fed(planned, machine, "late", 10, -HOUR)
    machine.error = timedelta(0)
    rights(planned, machine, 1, 300)
    by_probe = {one.probe: one for one in walk_in(planned)}
    assert not by_probe["own"].is_doubtful
    assert by_probe["none"].written_at - by_probe["none"].at == HOUR
    assert not by_probe["none"].is_untimed
    assert by_probe["late"].is_untimed


def test_a_small_error_of_what_feeds_may_be_of_either_clock(planned: Ledger) -> None:
    """Five minutes: a message may have waited so long, so nobody knows whose time it has."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    machine.error = timedelta(minutes=5)
    fed(planned, machine, "probe", 10, timedelta(0))
    machine.error = timedelta(0)
    rights(planned, machine, 1, 300)
    (one,) = walk_in(planned)
    assert one.is_untimed


def test_feeds_are_thinned_out_by_the_times_that_count(planned: Ledger) -> None:
    """An hour written by a clock set back keeps its extremes, though a right hour shows the same times."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    for hour, error in enumerate((timedelta(0), -HOUR)):
        machine.error = error - timedelta(seconds=20 * hour)
        for n in range(60):
            one = Fed("probe", machine.shows, 2.0 + hour + n / 100, place="walk-in")
            feeding.take_fed(planned, "stdin", [one], noted_at=machine.said(1)["noted_at"])  # type: ignore[arg-type]
    machine.error = timedelta(0)
    rights(planned, machine, 1, 600)
    every = walk_in(planned)
    few = counted(planned).readings(place="walk-in", silence=ALWAYS)
    assert len(every) == 120 > len(few)
    assert (few[0], few[-1]) == (every[0], every[-1])
    assert sum(one.is_doubtful for one in few) >= 20


def test_marks_of_loads_and_watches_move_with_their_clock(planned: Ledger) -> None:
    """A load that went on, and a cooling that began and ended, by a clock an hour behind."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    machine.error = -HOUR
    on = write.mark_load(planned, BRISKET, LoadStage.ON, **machine.said(1))
    began = write.start_watch(planned, Watched(WatchKind.COOLING, "beans"), **machine.said(1))
    ended = write.end_watch(planned, began.subject, WatchEnd.DONE, **machine.said(1))
    machine.error = timedelta(0)
    rights(planned, machine, 1, 300)
    times = counted(planned)
    (load,) = times.loads(read.load_states(planned, DAY))
    assert load.on_at == load.since == on.at + HOUR
    (watch,) = times.watches(EVENING)
    assert (watch.started_at, watch.ended_at) == (began.at + HOUR, ended.at + HOUR)
    assert times.watches(began.at + 2 * HOUR) == []
    write.correct(planned, on.seq, Right(taken_at=on.at + SHORT), **machine.said(1))
    (load,) = counted(planned).loads(read.load_states(planned, DAY))
    assert load.on_at == on.at + SHORT


def test_what_was_read_last_is_last_by_the_times_that_count(planned: Ledger) -> None:
    """A core, a pit's air and a probe, read by a clock two hours ahead and then by one that is right."""
    machine = Machine().runs(planned)
    rights(planned, machine, 1, 300)
    write.light(planned, "north", 118.0, **machine.said(1))
    write.mark_load(planned, BRISKET, LoadStage.ON, **machine.said(1))
    for error, celsius in ((2 * HOUR, 40.0), (timedelta(0), 50.0)):
        machine.error = error
        write.take_reading(planned, celsius, load=BRISKET, **machine.said(10))
        write.take_reading(planned, celsius + 60, place="north", **machine.said())
        fed(planned, machine, "probe", 0, error)
    last, since = machine.true, EVENING
    rights(planned, machine, 1, 300)
    times = counted(planned)
    (load,) = times.loads(read.load_states(planned, DAY))
    assert (load.last_core_c, load.last_core_at) == (50.0, last)
    north = times.pits(read.pit_states(planned), since, ALWAYS)["north"]
    assert (north.last_air_c, north.last_air_at) == (110.0, last)
    (probe,) = times.probes(feeding.probe_states(planned), since, ALWAYS)
    assert probe.at == last
    assert feeding.probe_states(planned)[0].at > last


acts = st.lists(
    st.tuples(st.sampled_from("wwwwsb"), st.integers(0, 400), st.integers(-300, 300)), min_size=1, max_size=25
)


@settings(max_examples=60)
@given(acts)
def test_a_quiet_ledger_has_no_doubtful_entry(drawn: list[tuple[str, int, int]]) -> None:
    """The one question never passes over what the whole look finds; asked after each entry or once."""
    with TemporaryDirectory() as folder, create_ledger(Path(folder) / "b.db", "C", ZONE, Path()) as ledger:
        machine = Machine().runs(ledger)
        for number, (act, minutes, error) in enumerate(drawn):
            if act == "s":
                machine.error = timedelta(minutes=error)
            elif act == "b":
                machine.boot, machine.booted = f"boot-{number + 2}", machine.true
            else:
                write.note(ledger, "looked", **machine.said(minutes))
                assert not (is_quiet(ledger, 1) and clocks(ledger, 1).doubts)
