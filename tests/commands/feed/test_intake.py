"""Messages become readings in the ledger, or are set aside, and only then are done with."""

import sqlite3
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from board.commands.feed.intake import MOST_IN_ENTRY, MOST_WAITING, Intake
from board.errors import LedgerError
from board.house.model import House
from board.ledger import feeding, read
from board.ledger.open import Ledger, open_ledger

from .conftest import NOW, forget

SECOND = timedelta(seconds=1)


def fed(ledger: Ledger) -> list[tuple[str, float]]:
    """Everything that is in the table, by probe and time."""
    rows = ledger.rows("SELECT probe, temperature_c FROM fed ORDER BY probe, at")
    return [(row["probe"], row["temperature_c"]) for row in rows]


def test_messages_are_done_with_when_they_are_on_disk(ledger: Ledger, house: House) -> None:
    """Good and bad ones alike; the good are one entry, the bad are set aside with the reason."""
    intake: Intake[int] = Intake(ledger, house, "stdin")
    for n, message in enumerate(["north-grate 225 F", "walk-in-door 38", "east 1 F", b"\xff", ""]):
        intake.offer(message, n, NOW)
    assert fed(ledger) == []
    assert intake.flush(NOW) == [0, 1, 2, 3, 4]
    with open_ledger(ledger.path) as other:
        assert fed(other) == [("north-grate", 107.22), ("walk-in-door", 3.33)]
        assert len(read.entries(other, kinds=["fed"])) == 1
        assert [one.message for one in feeding.asides(other, 10)] == ["", "\ufffd", "east 1 F"]
    assert intake.flush(NOW) == []
    assert (intake.counts.kept, intake.counts.bad) == (2, 3)


def test_nothing_is_lost_while_it_cannot_be_written(ledger: Ledger, house: House) -> None:
    """A busy ledger: all stays, no message is done with, and the next flush has it all."""
    intake: Intake[int] = Intake(ledger, house, "stdin")
    intake.offer("north-grate 225 F", 1, NOW)
    intake.offer("nonsense", 2, NOW)
    ledger.wait_at_most(0)
    with sqlite3.connect(ledger.path, isolation_level=None) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(LedgerError, match="busy"):
            intake.flush(NOW)
        other.execute("ROLLBACK")
    assert intake.flush(NOW) == [1, 2]
    assert (intake.counts.kept, intake.counts.bad) == (1, 1)
    assert [one.bad for one in feeding.feeds(ledger)] == [1]


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.integers(0, 5), st.booleans()), max_size=30))
def test_delivered_at_least_once_is_there_once(
    ledger: Ledger, house: House, sent: list[tuple[int, bool]]
) -> None:
    """Messages delivered again, in any order and across flushes and restarts, are there once each."""
    before = forget(ledger)
    intake: Intake[int] = Intake(ledger, house, "broker")
    for second, starts_again in sent:
        at = NOW + second * SECOND
        intake.offer(f"north-grate {200 + second} F {at.isoformat()}", second, NOW)
        if starts_again:
            intake.flush(NOW)
            intake = Intake(ledger, house, "broker")
    intake.flush(NOW)
    there = {row["at"] for row in ledger.rows("SELECT at FROM fed")}
    assert {f"2026-12-09T19:00:{second:02}.000Z" for second, _ in sent} == there
    told = [
        tuple(one)
        for e in read.entries(ledger, kinds=["fed"], since_seq=before)
        for one in e.data["readings"]
    ]
    assert len(told) == len({one[:2] for one in told}) == len(there) == len({second for second, _ in sent})


def test_a_long_backlog_is_written_in_parts(ledger: Ledger, house: House) -> None:
    """It is due before its second is over, and no entry is longer than is good to read."""
    intake: Intake[int] = Intake(ledger, house, "csv old")
    for n in range(MOST_WAITING):
        assert not intake.is_due
        intake.offer(f"north-grate 225 F {(NOW - n * SECOND).isoformat()}", n, NOW)
    assert intake.is_due
    assert len(intake.flush(NOW)) == MOST_WAITING
    sizes = [len(entry.data["readings"]) for entry in read.entries(ledger, kinds=["fed"])]
    assert sizes == [MOST_IN_ENTRY] * (MOST_WAITING // MOST_IN_ENTRY)


def test_where_nothing_is_kept_nothing_is_written(ledger: Ledger, house: House) -> None:
    """Readings left out on purpose are done with; the boards beside are not woken for them."""
    intake: Intake[int] = Intake(ledger, replace(house, keeping=None), "stdin")
    intake.offer("north-grate 225 F", 1, NOW)
    intake.flush(NOW)
    with open_ledger(ledger.path) as board:
        before = read.data_version(board)
        for n in range(2, 40):
            intake.offer("north-grate 225 F", n, NOW + n * SECOND)
            assert intake.flush(NOW + n * SECOND) == [n]
        assert read.data_version(board) == before
    intake.end(NOW + 40 * SECOND)
    assert (intake.counts.kept, intake.counts.thinned) == (2, 37)
    assert [one.thinned for one in feeding.feeds(ledger)] == [37]


def test_what_a_clock_set_back_makes_still_to_come_is_set_aside(ledger: Ledger, house: House) -> None:
    """The clock is set back an hour between arrival and flush: the feed goes on with what comes then."""
    intake: Intake[int] = Intake(ledger, house, "stdin")
    intake.offer("north-grate 225 F", 1, NOW)
    earlier = NOW - timedelta(hours=1)
    intake.offer("walk-in-door 38 F", 2, earlier)
    assert intake.flush(earlier) == [1, 2]
    assert fed(ledger) == [("walk-in-door", 3.33)]
    assert "still to come" in feeding.asides(ledger, 1)[0].why


def test_messages_set_aside_are_bounded(ledger: Ledger, house: House) -> None:
    """A device gone mad fills no disk: the last few hundred are kept of each source, cut short, inert."""
    intake: Intake[int] = Intake(ledger, house, "stdin")
    for n in range(feeding.MOST_ASIDE + 50):
        intake.offer(f"\x1b[31mmad {n} " + "x" * 9_000, n, NOW)
        if n % 100 == 0:
            intake.flush(NOW)
    intake.flush(NOW)
    found = feeding.asides(ledger, 10_000)
    assert len(found) == feeding.MOST_ASIDE
    assert found[0].message.startswith(f"[31mmad {feeding.MOST_ASIDE + 49} ")
    assert all(len(one.message) <= feeding.LONGEST_MESSAGE and "\x1b" not in one.message for one in found)
