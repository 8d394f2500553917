"""Entries of a wrong clock are known by the ledger, and put right as one; they keep their order."""

from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.errors import LedgerError
from board.ledger import feeding, read, write
from board.ledger.checking import Right
from board.ledger.doubtful import clocks, disagrees, doubtful, doubts_between, entries_of, fed_by
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import Entry, LoadStage, RightClock
from board.probes.reading import Fed

from .by_hand import DAY, ZONE, plan
from .machine import Machine
from .test_rebuild import assert_rebuilt
from .test_write import BRISKET

HOUR, TWO_HOURS = timedelta(hours=1), timedelta(hours=2)
STAGES = (LoadStage.ON, LoadStage.WRAPPED, LoadStage.PULLED, LoadStage.RESTING)


def marked(ledger: Ledger, machine: Machine, *stages: LoadStage, every: float = 20) -> list[Entry]:
    """The stages of the brisket marked, so many minutes apart."""
    return [write.mark_load(ledger, BRISKET, stage, **machine.said(every)) for stage in stages]


def with_a_wrong_stretch(ledger: Ledger, error: timedelta) -> tuple[Machine, list[Entry]]:
    """A ledger whose brisket went on and was wrapped by a clock that was wrong for less time than right."""
    machine = Machine().runs(ledger)
    for minutes in (1, 90, 30):
        write.note(ledger, "right", **machine.said(minutes))
    machine.error = error
    wrong = marked(ledger, machine, LoadStage.ON, LoadStage.WRAPPED)
    machine.error = timedelta(0)
    for minutes in (5, 240, 240):
        write.note(ledger, "right again", **machine.said(minutes))
    return machine, wrong


def test_a_wrong_clocks_entries_are_doubtful_and_keep_their_order(planned: Ledger) -> None:
    """How far ahead it was is known; the order of the record is that of writing."""
    _, wrong = with_a_wrong_stretch(planned, HOUR)
    everything = read.entries(planned, since_seq=0)
    doubts = doubtful(planned, everything)
    assert {seq: doubt.ahead for seq, doubt in doubts.items()} == {entry.seq: HOUR for entry in wrong}
    assert [entry.seq for entry in everything] == sorted(entry.seq for entry in everything)
    assert [one.by for one in clocks(planned).sets] == [HOUR, -HOUR]


@pytest.mark.parametrize("error", [HOUR, -TWO_HOURS, timedelta(minutes=15), timedelta(minutes=-3)])
def test_a_stretch_is_put_right_as_one_and_taken_back_as_one(planned: Ledger, error: timedelta) -> None:
    """All its times move by the same, the state follows, nothing of it is doubtful then; u undoes it all."""
    machine, wrong = with_a_wrong_stretch(planned, error)
    doubt = doubtful(planned, wrong)[wrong[0].seq]
    right = write.put_times_right(planned, doubt, error, **machine.said(1))
    load = next(one for one in read.load_states(planned, DAY) if one.id == BRISKET)
    assert (load.on_at, load.wrapped_at) == tuple(entry.at - error for entry in wrong)
    assert not doubtful(planned, wrong)
    assert not entries_of(planned, doubt)
    assert_rebuilt(planned)
    assert len(write.undo_together(planned, **machine.said(1))) == len(right) == 2
    load = next(one for one in read.load_states(planned, DAY) if one.id == BRISKET)
    assert (load.on_at, load.wrapped_at) == tuple(entry.at for entry in wrong)
    assert set(doubtful(planned, wrong)) == {entry.seq for entry in wrong}
    assert_rebuilt(planned)


def test_what_cannot_have_been_is_refused_whole(planned: Ledger) -> None:
    """A shift that puts a wrap after the pull that a right clock wrote is refused, and nothing is moved."""
    machine = Machine().runs(planned)
    write.note(planned, "right", **machine.said(200))
    machine.error = -TWO_HOURS
    wrong = marked(planned, machine, LoadStage.ON, LoadStage.WRAPPED)
    machine.error = timedelta(0)
    marked(planned, machine, LoadStage.PULLED, every=5)
    write.note(planned, "right", **machine.said(500))
    doubt = doubtful(planned, wrong)[wrong[0].seq]
    before = len(read.entries(planned))
    with pytest.raises(LedgerError, match=r"entry \d+ at .* cannot be wrapped .* nothing is put right"):
        write.put_times_right(planned, doubt, -TWO_HOURS - HOUR, **machine.said(1))
    assert len(read.entries(planned)) == before
    write.put_times_right(planned, doubt, -TWO_HOURS, **machine.said(1))
    with pytest.raises(LedgerError, match="nothing that this clock wrote"):
        write.put_times_right(planned, doubt, HOUR, **machine.said(1))


def test_what_was_put_right_by_hand_or_taken_back_stays_as_it_is(planned: Ledger) -> None:
    """Only the rest of a stretch moves with it."""
    machine, (on, wrapped) = with_a_wrong_stretch(planned, HOUR)
    by_hand = on.at - HOUR - timedelta(minutes=4)
    write.correct(planned, on.seq, Right(taken_at=by_hand), **machine.said(1))
    doubt = doubtful(planned, [wrapped])[wrapped.seq]
    assert [entry.seq for entry in entries_of(planned, doubt)] == [wrapped.seq]
    write.put_times_right(planned, doubt, HOUR, **machine.said(1))
    load = next(one for one in read.load_states(planned, DAY) if one.id == BRISKET)
    assert (load.on_at, load.wrapped_at) == (by_hand, wrapped.at - HOUR)


@settings(max_examples=25, deadline=None)
@given(
    gaps=st.lists(st.integers(0, 60), min_size=4, max_size=4),
    error=st.integers(-600, 600).filter(lambda minutes: abs(minutes) > 2),
)
def test_a_shift_keeps_any_stages_in_their_order(gaps: list[int], error: int) -> None:
    """Whatever lies between the marks, and whichever way they move, none contradicts another on the way."""
    off = timedelta(minutes=error)
    with TemporaryDirectory() as folder, create_ledger(Path(folder) / "b.db", "C", ZONE, Path()) as ledger:
        write.commit_plan(ledger, plan(), **Machine().said(-300))
        machine = Machine(error=off).runs(ledger)
        machine.true += timedelta(hours=3)
        wrong = [
            write.mark_load(ledger, BRISKET, stage, **machine.said(gap))
            for stage, gap in zip(STAGES, gaps, strict=True)
        ]
        machine.error = timedelta(0)
        for minutes in (0, 4_000):
            write.note(ledger, "right", **machine.said(minutes))
        doubt = doubtful(ledger, wrong)[wrong[0].seq]
        write.put_times_right(ledger, doubt, off, **machine.said(1))
        (load,) = read.load_states(ledger, DAY)
        assert (load.on_at, load.resting_at) == (wrong[0].at - off, wrong[-1].at - off)
        write.undo_together(ledger, **machine.said(1))
        (load,) = read.load_states(ledger, DAY)
        assert (load.on_at, load.resting_at) == (wrong[0].at, wrong[-1].at)


def test_a_person_says_which_clock_is_right(planned: Ledger) -> None:
    """The word of a person makes the longer clock's entries doubtful, until it is taken back."""
    machine = Machine(error=-HOUR).runs(planned)
    slow = [write.note(planned, "slow", **machine.said(minutes)) for minutes in (1, 600)]
    machine.error = timedelta(0)
    later = write.note(planned, "later", **machine.said(1))
    assert set(doubtful(planned, [*slow, later])) == {later.seq}
    write.settle_clock(planned, RightClock.MACHINE, HOUR, **machine.said(1))
    assert set(doubtful(planned, [*slow, later])) == {entry.seq for entry in slow}
    write.undo(planned, **machine.said(1))
    assert set(doubtful(planned, [*slow, later])) == {later.seq}


def test_a_clock_is_held_against_the_last_entries(planned: Ledger) -> None:
    """Set on or back in this boot: by how much; behind the last entry in another: at least so much."""
    machine = Machine().runs(planned)
    write.note(planned, "right", **machine.said(200))
    assert disagrees(planned, machine.shows) is None
    machine.true += timedelta(hours=6)  # asleep
    assert disagrees(planned, machine.shows) is None
    for error in (TWO_HOURS, -TWO_HOURS):
        found = disagrees(planned, machine.true + error)
        assert (found.ahead, found.expected, found.is_set) == (error, machine.true, True)
    machine.boot, machine.booted = "boot-2", machine.true
    assert disagrees(planned, machine.shows) is None
    found = disagrees(planned, machine.true - timedelta(hours=7))
    assert (found.ahead, found.is_set) == (-HOUR, False)


def test_an_old_stretch_is_known_without_all_that_came_since(
    planned: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only the entries near those asked about are looked at; what they show is the same."""
    machine, wrong = with_a_wrong_stretch(planned, HOUR)
    near = doubtful(planned, wrong)
    for _ in range(20):
        write.note(planned, "later", **machine.said(10))
    monkeypatch.setattr("board.ledger.doubtful.LOOKED_BACK", 10)
    assert doubtful(planned, wrong) == near


def test_readings_fed_by_a_wrong_clock_are_counted_for_each_probe(planned: Ledger) -> None:
    """A feed goes on while the clock is wrong: how many of a probe's readings came then is known."""
    machine, fed = Machine().runs(planned), 0
    span = (machine.true - TWO_HOURS, machine.true + 12 * HOUR)
    for minutes, error in ((1, 0), (240, 0), (1, 60), (1, 60), (1, 0), (240, 0)):
        machine.error = timedelta(minutes=error)
        shows = machine.said(minutes)["noted_at"]
        feeding.take_fed(planned, "stdin", [Fed("p1", shows, 90.0, place="north")], noted_at=shows)
        fed += bool(error)
    doubts = doubts_between(planned, *span)
    assert fed_by(planned, doubts, "p1", *span) == fed
    assert fed_by(planned, doubts, "p2", *span) == 0


def test_a_ledger_that_lost_entries_is_looked_at_afresh(planned: Ledger) -> None:
    """After a restore, what was known of entries that are gone is not held against what comes."""
    machine = Machine().runs(planned)
    planned.db.execute("BEGIN")
    marked(planned, machine, LoadStage.ON)
    machine.error = TWO_HOURS
    marked(planned, machine, LoadStage.WRAPPED)
    assert clocks(planned).doubts
    planned.db.execute("ROLLBACK")
    machine.error = timedelta(0)
    marked(planned, machine, LoadStage.ON, LoadStage.WRAPPED)
    assert not clocks(planned).doubts
