"""What is said of a record whose times clocks wrote that did not agree."""

import pytest

from board.house.model import Handling
from board.safety.cooked import cooked
from board.safety.cooling import cooled
from board.safety.doubtful_times import by_count, by_either
from board.safety.verdict import Answer
from tests.safety.records import record

IN_TIME = cooled(record((0, 57), (100, 20), (300, 5)))
LATE = cooled(record((0, 57), (160, 20), (300, 5)))
DOUBT = "2 of its 3 readings were written by a clock 1 h behind"
SETTLE = "its times put right"


@pytest.mark.parametrize("verdict", [IN_TIME, LATE])
def test_a_verdict_by_the_machines_count_stands_and_says_so(verdict):
    """What passed on the machine is known, so the answer is as sure as any; the reason names the clock."""
    found = by_count(verdict, DOUBT)
    assert (found.answer, found.came_to) == (verdict.answer, verdict.came_to)
    assert found.why == f"{verdict.why} {DOUBT}; the time that passed is by the machine's own count."


@pytest.mark.parametrize("verdict", [IN_TIME, LATE])
def test_nothing_is_shown_by_times_that_nobody_knows(verdict):
    """In time or late by one of the clocks: not shown, no time told, and what settles it."""
    found = by_either(verdict, DOUBT, SETTLE, fails=False)
    assert (found.answer, found.settle, found.cautions) == (Answer.NOT_SHOWN, SETTLE, ())
    assert found.why.startswith(DOUBT)
    assert {row.minutes for row in found.came_to} == {None}
    assert found.rule == verdict.rule


def test_what_is_late_by_either_clock_has_failed():
    """It took too long whichever was right: that is proved, though not how long it took."""
    found = by_either(LATE, DOUBT, SETTLE, fails=True)
    assert (found.answer, found.settle) == (Answer.FAIL, "")
    assert found.why.endswith(f"{DOUBT}; it fails whichever is right.")
    assert {row.minutes for row in found.came_to} == {None}


def test_no_lethality_and_no_time_at_temperature_is_told_of_unknown_times():
    """Both are sums of time."""
    hot = cooked(record((0, 40), (30, 60), (150, 60)), Handling.INTACT_ROAST)
    found = by_either(hot, DOUBT, SETTLE, fails=False)
    assert hot.answer is Answer.PASS
    assert (found.answer, found.lethality_log10) == (Answer.NOT_SHOWN, None)
    assert {row.seconds for row in found.held} == {0.0}
