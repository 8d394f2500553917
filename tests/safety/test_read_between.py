"""What lines, gaps and lost readings may change of a verdict, whatever the rule; and heat of before."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.house.model import Handling
from board.safety.cooked import cooked
from board.safety.cooling import cooled
from board.safety.holding import held_cold, held_hot
from board.safety.log import TemperatureLog, trusted_minutes
from board.safety.reheating import reheated
from board.safety.tempering import tempered
from board.safety.thawing import thawed
from board.safety.verdict import Answer

RULES = {
    "cooked as a roast": (lambda log: cooked(log, Handling.INTACT_ROAST), "cooking"),
    "cooked as injected": (lambda log: cooked(log, Handling.INJECTED), "cooking"),
    "cooked as poultry": (lambda log: cooked(log, Handling.POULTRY), "cooking"),
    "cooling": (cooled, "cooling"),
    "made cold": (lambda log: cooled(log, from_room_temperature=True), "cooling"),
    "held hot": (held_hot, "holding"),
    "held cold": (held_cold, "holding"),
    "reheated": (reheated, "cooking"),
    "thawed": (thawed, "holding"),
    "tempered": (tempered, "holding"),
}
LEVELS = st.sampled_from([-2.0, 0, 4, 5, 8, 21, 30, 54.4, 57, 60, 62.8, 63, 66, 70, 74, 75, 90])
STEPS = st.sampled_from([0.1, 1.0, 15, 30, 59, 60, 61, 119, 120, 121, 240, 241, 300])


@st.composite
def records(draw: st.DrawFn) -> TemperatureLog:
    """Up to seven readings of a kitchen, one of them perhaps lost."""
    minutes = [0.0]
    for step in draw(st.lists(STEPS, min_size=0, max_size=6)):
        minutes.append(minutes[-1] + step)
    cores: list[float | None] = [draw(LEVELS) for _ in minutes]
    if draw(st.booleans()):
        cores[draw(st.integers(0, len(cores) - 1))] = None
    return TemperatureLog(tuple(minutes), tuple(cores))


@pytest.mark.parametrize("rule", RULES)
@settings(max_examples=150, deadline=None)
@given(log=records(), share=st.sampled_from([0.001, 0.25, 0.5, 0.75, 0.999]), at=st.integers(0, 5))
def test_a_reading_on_a_trusted_line_changes_nothing(rule, log, share, at):
    """Whatever the rule: what agrees with the line that is taken anyway says nothing new.

    Only the clock of cooling, which a long stretch leaves open, may be settled by it.
    """
    judge, use = RULES[rule]
    minutes, cores = list(log.minutes), list(log.temperatures_c)
    near = [
        i
        for i in range(len(minutes) - 1)
        if None not in (cores[i], cores[i + 1]) and minutes[i + 1] - minutes[i] <= trusted_minutes(use)
    ]
    if not near:
        return
    i = near[at % len(near)]
    minute = minutes[i] + share * (minutes[i + 1] - minutes[i])
    core = cores[i] + share * (cores[i + 1] - cores[i])
    more = TemperatureLog(
        (*minutes[: i + 1], minute, *minutes[i + 1 :]), (*cores[: i + 1], core, *cores[i + 1 :])
    )
    before = judge(log).answer
    if use != "cooling" or before is not Answer.NOT_SHOWN:
        assert judge(more).answer is before


@pytest.mark.parametrize("rule", RULES)
@settings(max_examples=150, deadline=None)
@given(log=records(), at=st.integers(0, 6))
def test_a_lost_reading_never_makes_a_pass_of_not_shown(rule, log, at):
    """A gap proves nothing good."""
    judge, _ = RULES[rule]
    cores = list(log.temperatures_c)
    cores[at % len(cores)] = None
    if judge(log).answer is Answer.NOT_SHOWN:
        assert judge(TemperatureLog(log.minutes, tuple(cores))).answer is not Answer.PASS


def test_a_clock_that_starts_on_a_long_line_is_not_taken_from_it():
    """90 °C, and 15 °C 230 min later: by Newton's law 127 min from 57 to 21 °C, by the line 111."""
    sparse = TemperatureLog((0.0, 230.0, 420.0), (90.0, 15.0, 4.6))
    near = TemperatureLog((0.0, 50.0, 100.0, 300.0), (90.0, 56.0, 20.0, 4.6))
    assert [cooled(log).answer for log in (sparse, near)] == [Answer.NOT_SHOWN, Answer.PASS]


def test_heat_of_before_food_was_cold_again_reheats_nothing():
    """Hot at first, chilled, then 60 °C after two hours: it was not reheated to 74 °C."""
    log = TemperatureLog((0.0, 10.0, 100.0, 200.0, 300.0, 420.0), (74.0, 74.0, 3.0, 30.0, 50.0, 60.0))
    assert reheated(log).answer is Answer.FAIL


def test_a_lost_beginning_starts_no_later_clock():
    """Food made at room temperature whose first reading was lost may have stood for five hours."""
    log = TemperatureLog((0.0, 300.0, 420.0), (None, 4.0, 4.0))
    assert cooled(log, from_room_temperature=True).answer is not Answer.PASS


def test_food_out_of_the_cold_is_hot_when_the_line_says_so():
    """5 °C, then 60 °C 240 min later: hot at 227 min on the line, with a reading there or without."""
    ends = TemperatureLog((0.0, 240.0), (5.0, 60.0))
    read = TemperatureLog((0.0, 230.0, 240.0), (5.0, 5.0 + 55.0 * 230.0 / 240.0, 60.0))
    assert tempered(ends).answer is tempered(read).answer is Answer.PASS
