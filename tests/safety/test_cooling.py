"""Cooling: both checkpoints exactly on their limit, when the clock starts, and what must always hold."""

from math import exp
from math import log as log_of

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.safety.cooling import checkpoints, cooled
from board.safety.log import TemperatureLog
from board.safety.verdict import Answer
from tests.safety.records import filled, holed, record, record_f, records


def answer(*readings):
    """The answer on a record in °C."""
    return cooled(record(*readings)).answer


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 57), (120, 21), (360, 5)], Answer.PASS),
        ([(0, 57), (120, 21.1), (360, 5)], Answer.PASS),
        ([(0, 57), (120, 21.2), (360, 5)], Answer.FAIL),
        ([(0, 57), (121, 21.1), (360, 5)], Answer.FAIL),
        ([(0, 57), (120, 21), (361, 5)], Answer.FAIL),
        ([(0, 57), (120, 21), (360, 5.1)], Answer.FAIL),
        ([(0, 57), (60, 21), (360, 5)], Answer.PASS),
        ([(0, 57), (150, 20), (300, 5)], Answer.FAIL),
    ],
)
def test_exactly_on_a_checkpoint(readings, expected):
    """3-501.14: 21 °C (70 °F) 2 h after 57 °C, 5 °C 6 h after it; time saved in the first serves the second.

    Over 2 h to 21 °C fails even when the whole is under 6 h.
    """
    assert answer(*readings) is expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 135), (120, 70), (360, 41)], Answer.PASS),
        ([(0, 135), (120, 70.1), (360, 41)], Answer.FAIL),
        ([(0, 135), (120, 70), (360, 41.1)], Answer.FAIL),
        ([(0, 135), (120.5, 70), (360, 41)], Answer.FAIL),
    ],
)
def test_exactly_on_a_checkpoint_in_fahrenheit(readings, expected):
    """The same in °F, 135 to 70 to 41."""
    assert cooled(record_f(*readings)).answer is expected


def test_time_above_57_does_not_count():
    """Two hours above 57 °C, then 2 h from there to 21 °C."""
    assert answer((0, 90), (120, 57), (240, 21), (480, 5)) is Answer.PASS
    assert answer((0, 90), (60, 58), (120, 57), (241, 21.2), (480, 5)) is Answer.FAIL


def test_a_cook_before_the_cooling_does_not_start_the_clock():
    """Raw meat that warms through 57 °C starts it only on the way down."""
    assert answer((0, 5), (120, 95), (150, 57), (260, 21), (500, 5)) is Answer.PASS


def test_food_that_is_warm_again_in_between_is_down_only_when_it_stays_down():
    """At 21 °C after 9 min, hot again, and from 57 to 21 °C in 160 min: that is no cooling in 2 h.

    Warm again and back within the 2 h of the first fall is; what is done with it once it is at 5 °C is not.
    """
    again = cooled(record((0, 60), (10, 20), (20, 90), (40, 57), (200, 21), (300, 5)))
    assert again.answer is Answer.FAIL
    assert again.why.startswith("It was warmer again in between: it took 3 h 1")
    assert answer((0, 57), (60, 20), (80, 40), (110, 21), (300, 5)) is Answer.PASS
    assert answer((0, 57), (60, 20), (100, 40), (130, 21), (300, 5)) is Answer.FAIL
    assert answer((0, 57), (100, 21), (150, 5), (160, 90), (300, 50)) is Answer.PASS
    left = cooled(record((0, 57), (60, 20), (130, 40)))
    assert left.why == "After 2 h 10 min it was at 40 °C (104 °F), again above 21 °C (70 °F); 2 h is allowed."


def test_a_lost_reading_may_hide_that_it_was_warm_again():
    """21 °C in time and 5 °C in time with a reading lost between: it may have been hot again meanwhile."""
    assert answer((0, 57), (110, 21), (200, 12), (300, 5)) is Answer.PASS
    assert answer((0, 57), (110, 21), (200, None), (300, 5)) is Answer.NOT_SHOWN
    assert answer((0, 57), (110, 21), (115, None), (119, 20), (300, 5)) is Answer.PASS
    assert answer((0, 57), (110, 21), (300, 5), (320, None), (360, 4)) is Answer.PASS


def test_a_record_that_begins_cooler_can_fail_but_not_pass():
    """When it passed 57 °C is not in it; but two hours and more above 21 °C are."""
    begun = cooled(record((0, 50), (60, 21), (180, 5)))
    assert (begun.answer, "begins below" in begun.why) == (Answer.NOT_SHOWN, True)
    assert "57 °C (135 °F) or hotter" in begun.settle
    assert answer((0, 50), (121, 30)) is Answer.FAIL
    assert answer((0, 4)) is Answer.NOT_SHOWN


def test_a_record_that_ends_early_says_by_when_to_read_again():
    """Half an hour in: 21 °C by 2 h after the first reading."""
    early = cooled(record((0, 57), (30, 40)))
    assert (early.answer, early.settle) == (
        Answer.NOT_SHOWN,
        "a reading of 21 °C (70 °F) or colder by 2 h after the first reading",
    )
    assert cooled(record((0, 90), (30, 60))).answer is Answer.NOT_SHOWN
    assert cooled(record()).answer is Answer.NOT_SHOWN


def test_a_late_record_is_told_by_how_much():
    """It took 2 h 30; 2 h is allowed."""
    why = cooled(record((0, 57), (150, 21.11), (300, 5))).why
    assert why == "It took 2 h 30 min to 21 °C (70 °F); 2 h is allowed."


def test_food_made_of_ingredients_at_room_temperature():
    """4 h to 5 °C from when it is made, and not a minute more."""
    for end, expected in ((240, Answer.PASS), (241, Answer.FAIL)):
        log = record((0, 20), (end, 5))
        assert cooled(log, from_room_temperature=True).answer is expected


def test_a_gap_opens_a_window():
    """57 °C was passed somewhere in a lost stretch: shown where even its start leaves time enough."""
    assert answer((0, 60), (10, None), (30, 50), (120, 21), (360, 5)) is Answer.PASS
    assert answer((0, 60), (10, None), (30, 50), (140, 21), (350, 5)) is Answer.NOT_SHOWN
    assert answer((0, 60), (10, None), (30, 50), (151, 21.2), (350, 5)) is Answer.FAIL


def test_a_gap_while_hot_may_hide_the_start():
    """Hot on both sides of a long silence, it may have been cold in between."""
    assert answer((0, 70), (60, None), (120, 60), (130, 50), (200, 20), (300, 5)) is Answer.NOT_SHOWN


def test_a_lost_beginning_may_hide_the_start():
    """A record whose first reading is lost may have passed 57 °C and been hot again before the next."""
    assert answer((0, 70), (30, 57), (150, 21), (390, 5)) is Answer.PASS
    assert answer((0, None), (20, 60), (30, 57), (150, 21), (390, 5)) is Answer.NOT_SHOWN


def test_what_it_took_is_in_the_verdict():
    """Minutes to each checkpoint beside what is allowed."""
    came = cooled(record((0, 57), (100, 21), (300, 5))).came_to
    assert [(round(c.at_or_below_c, 1), c.within_minutes) for c in came] == [(21.1, 120), (5.0, 360)]
    assert came[0].minutes == pytest.approx(99.7, abs=0.1)
    assert came[1].minutes == 300


def test_the_plants_ways_are_said_beside_it():
    """Appendix B option 1: 54.4 to 26.7 °C in 1.5 h and to 4.4 °C in 5 h more; it fails the 2 h to 21 °C."""
    slow = cooled(record((0, 57), (10, 54.4), (99, 26.7), (160, 15), (340, 4.4)))
    assert slow.answer is Answer.FAIL
    assert "option 1 (any cooked product)" in slow.cautions[0]
    assert "only under a plan" in slow.cautions[0]
    later = cooled(record((0, 57), (10, 54.4), (101, 26.8), (160, 15), (340, 4.4)))
    assert not any("option 1 (" in caution for caution in later.cautions)


def test_food_that_was_hot_again_meets_no_quick_way_of_the_plants():
    """At 20 °C after 10 min and hot again: 54.4 to 26.7 °C took far over option 1's hour and a half."""
    again = cooled(record((0, 60), (10, 20), (20, 90), (40, 57), (200, 21), (300, 4)))
    (said,) = (caution for caution in again.cautions if "FSIS" in caution)
    assert "option 3, cured" in said  # five hours for that step


def test_the_checkpoints_for_the_board():
    """Two, by minutes after passing 57 °C, each in words."""
    first, whole = checkpoints()
    assert (first.after_minutes, whole.after_minutes, whole.most_c) == (120, 360, 5)
    assert first.says == "at or below 21 °C (70 °F) within 2 h after it passed 57 °C (135 °F)"
    assert [c.after_minutes for c in checkpoints(from_room_temperature=True)] == [240]


@given(st.data(), records())
def test_readings_on_the_straight_line_change_no_verdict(data, log: TemperatureLog):
    """Any number of readings between two others, on their line.

    Only the clock, which a stretch over an hour leaves open, may be settled by them.
    """
    before = cooled(log).answer
    if before is not Answer.NOT_SHOWN:
        assert cooled(data.draw(filled(log))).answer is before


@given(st.data(), records(apart=60.0))
def test_readings_on_the_line_of_a_record_read_every_hour_settle_nothing(data, log: TemperatureLog):
    """Where no stretch is over an hour, what is not shown stays so too."""
    assert cooled(data.draw(filled(log))).answer is cooled(log).answer


@given(st.floats(10, 150), st.floats(57, 95), st.floats(2, 4.5), st.integers(2, 30))
def test_a_record_along_a_cooling_curve_is_judged_as_the_curve(tau, hot_c, around_c, every):
    """Newton's law read every few minutes: a pass where both times of the law are well within, else a fail.

    A line between two readings half an hour apart strays from the curve by under two minutes.
    """
    minutes = tuple(float(m) for m in range(0, 2_000, every))
    log = TemperatureLog(minutes, tuple(around_c + (hot_c - around_c) * exp(-m / tau) for m in minutes))

    def takes(c: float) -> float:
        return tau * log_of((57.0 - around_c) / (c - around_c))

    late = max(takes(21.11) - 120, takes(5.0) - 360)
    if abs(late) > 2.0:
        assert cooled(log).answer is (Answer.FAIL if late > 0 else Answer.PASS)


@given(st.data(), records())
def test_a_gap_never_makes_a_pass(data, log: TemperatureLog):
    """Of what is not shown, lost readings make nothing more."""
    if cooled(log).answer is Answer.NOT_SHOWN:
        assert cooled(data.draw(holed(log))).answer is not Answer.PASS
