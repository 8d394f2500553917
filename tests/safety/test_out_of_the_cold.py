"""Thawing and tempering: published times by weight, and how long food may be above 5 °C."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.safety.holding import held_hot
from board.safety.tables import rules
from board.safety.tempering import checkpoints, tempered
from board.safety.thawing import Way, raw_warm_most_minutes, thaw_minutes, thawed
from board.safety.verdict import Answer
from tests.safety.records import fahrenheit, filled, holed, record, records


def test_a_turkey_of_15_pounds():
    """6.80 kg: 72 h at 24 h for 5 lb and 90 h at 24 h for 4 lb in the refrigerator, 7.5 h in cold water."""
    fridge, water = thaw_minutes(6.80, Way.FRIDGE), thaw_minutes(6.80, Way.WATER)
    assert fridge.least_minutes / 60 == pytest.approx(72, abs=0.1)
    assert fridge.most_minutes / 60 == pytest.approx(90, abs=0.1)
    assert water.least_minutes / 60 == pytest.approx(7.5, abs=0.01)
    assert water.most_minutes > raw_warm_most_minutes()


def test_thawing_in_running_water():
    """3-501.13: water at 21 °C (70 °F) at most, and raw parts above 5 °C for 4 h in all at most."""
    assert rules("us", "thawing").limit("water_most").most_c() == pytest.approx(fahrenheit(70))
    assert raw_warm_most_minutes() == 240


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, -10), (60, 5), (180, 5)], Answer.PASS),
        ([(0, 5), (0.01, 6), (120, 6), (239.99, 6), (240, 5)], Answer.PASS),
        ([(0, 5), (0.01, 6), (120, 6), (241, 6), (241.01, 5)], Answer.FAIL),
        ([(0, 5), (0.01, 6), (121, 6), (121.01, 4), (130, 4), (130.01, 6), (251, 6)], Answer.FAIL),
        ([(0, 6), (60, 6)], Answer.NOT_SHOWN),
        ([(0, 6), (240, 6), (241, 6)], Answer.FAIL),
        ([(0, 4), (100, None), (200, 4), (300, None), (400, 4)], Answer.NOT_SHOWN),
        ([(0, 4), (100, None), (200, 4)], Answer.PASS),
        ([], Answer.NOT_SHOWN),
    ],
)
def test_raw_parts_above_5_degrees_for_4_hours_in_all(readings, expected: Answer):
    """Two spells add up; a lost stretch may be all of it."""
    assert thawed(record(*readings)).answer is expected


def test_food_ready_to_eat_is_never_above_5_degrees_while_it_thaws():
    """5 °C (41 °F) and not a hair more, for no time."""
    assert thawed(record((0, -5), (60, 5)), ready_to_eat=True).answer is Answer.PASS
    assert thawed(record((0, -5), (60, 5.1)), ready_to_eat=True).answer is Answer.FAIL


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 5), (0.01, 6), (100, 20), (240, 25)], Answer.PASS),
        ([(0, 5), (0.01, 6), (100, 20), (241, 25)], Answer.FAIL),
        ([(0, 5), (0.01, 6), (180, 20), (360, 21)], Answer.PASS),
        ([(0, 5), (0.01, 6), (180, 20), (360, 21.2)], Answer.FAIL),
        ([(0, 5), (0.01, 6), (180, 20), (361, 21)], Answer.FAIL),
        ([(0, 5), (0.01, 6), (200, 30), (239, 57), (400, 90)], Answer.PASS),
        ([(0, 3), (60, 4)], Answer.PASS),
        ([(0, 10), (60, 15)], Answer.NOT_SHOWN),
        ([(0, 10), (200, 15), (361, 18)], Answer.FAIL),
        ([(0, 5), (100, None), (250, 25)], Answer.NOT_SHOWN),
        ([(0, 5), (0.01, 6), (100, None), (200, 20), (300, 20)], Answer.NOT_SHOWN),
        ([(0, 5), (0.01, 6), (100, None), (200, 20), (361, 20)], Answer.FAIL),
        ([], Answer.NOT_SHOWN),
    ],
)
def test_time_as_the_only_control(readings, expected: Answer):
    """3-501.19: 4 h from 5 °C, or 6 h never above 21 °C (70 °F); being cooked ends it."""
    assert tempered(record(*readings)).answer is expected


def test_the_united_kingdom_has_4_hours_from_8_degrees_and_no_longer_way():
    """Schedule 4 of the 2013 regulations, from memory; below 63 °C hot food has 2 h."""
    for end, expected in ((240, Answer.PASS), (241, Answer.FAIL)):
        log = record((0, 8), (0.01, 9), (100, 15), (end, 18))
        assert tempered(log, place="uk").answer is expected
    cool = held_hot(record((0, 70), (60, 60)), place="uk")
    assert "below for 2 h" in cool.cautions[0]


def test_the_checkpoint_of_tempering():
    """One, 4 h after leaving the cold."""
    (check,) = checkpoints()
    assert check.after_minutes == 240
    assert "within 4 h" in check.says


@given(st.data(), records(high=30), st.sampled_from([thawed, tempered]))
def test_added_and_lost_readings(data, log, judge):
    """Readings on the line change nothing; a lost one never makes a pass of what is not shown."""
    before = judge(log).answer
    assert judge(data.draw(filled(log))).answer is before
    if before is Answer.NOT_SHOWN:
        assert judge(data.draw(holed(log))).answer is not Answer.PASS
