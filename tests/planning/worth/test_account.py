"""The account of each load: its minutes add up, and what it says of another place is so."""

import re
from dataclasses import replace

import pytest

from board.planning.account.account import accounts
from board.planning.account.hindered import fitted, hindrance
from board.planning.account.told import taken_out
from board.planning.assemble import lay_out
from board.planning.problem import Assignment, points
from board.planning.search.occupancy import Fit
from board.planning.search.tidy import occupied
from board.planning.standing import NOTHING
from tests.planning.worth.conftest import DAY


@pytest.fixture(scope="module")
def laid(two_fires, planned):
    """The first plan laid out."""
    problem, plan = planned
    return lay_out(two_fires, problem, plan, DAY, NOTHING)


def told_of(house, problem, plan, laid):
    """Each load taken out in turn, the plan whole again after each."""
    whole = occupied(problem, plan)
    for load in laid.loads:
        with taken_out(house, whole, laid.parts[load.id], load, laid) as told:
            yield told


def test_every_load_has_an_account(two_fires, planned, laid):
    """One for each, of several lines, and no line is the one the pitmaster cannot argue with."""
    found = accounts(two_fires, *planned, laid)
    assert found.keys() == {load.id for load in laid.loads}
    for lines in found.values():
        assert len(lines) >= 6
        assert all(line.endswith(".") for line in lines)
        assert not any("no better plan" in line for line in lines)


def test_the_minutes_of_the_sum_add_up(two_fires, planned, laid):
    """The latest loading told is the need less finish, rest, cook, loading and what the grid takes."""
    problem, plan = planned
    for told in told_of(two_fires, problem, plan, laid):
        part, mode = told.part, told.at.mode
        finish = sum(rule.work.minutes(part.pieces) for rule in part.finish)
        minutes = finish + part.need.cut.rest_minutes[0] + mode.cook.quantile(part.quantile)
        minutes += part.need.cut.load_work.minutes(part.pieces)
        latest = part.ready_by - part.rest_min - mode.dq - part.load
        line = accounts(two_fires, problem, plan, laid)[told.load.id][1]
        found = re.search(r"(\d+) min lost to steps", line)
        lost = (told.load.needed_at - problem.frame.grid.moment(latest)).total_seconds() / 60 - minutes
        assert (int(found[1]) if found else 0) == pytest.approx(lost, abs=1.0)
        assert told.slot(latest) in line


def test_a_plan_is_as_it_was_after_its_account(two_fires, planned, laid):
    """Loads are taken out and put back: room, people and fires are the same."""
    problem, plan = planned
    whole, untouched = occupied(problem, plan), occupied(problem, plan)
    for load in laid.loads:
        with taken_out(two_fires, whole, laid.parts[load.id], load, laid):
            pass
    assert whole.placed == untouched.placed
    assert whole.runs == untouched.runs
    assert (whole.attention_left == untouched.attention_left).all()
    assert (whole.hold_left == untouched.hold_left).all()


def test_what_another_time_costs_is_the_difference_of_two_whole_plans(two_fires, planned, laid):
    """Recomputed by adding up the whole plan with the load moved and its pit's fires as they then burn."""
    problem, plan = planned
    moved = 0
    for told in told_of(two_fires, problem, plan, laid):
        for by in (-12, -1, 1, 12):
            at = replace(told.at, start=told.at.start + by)
            found = fitted(told, at) if at.start in at.mode.starts else None
            if isinstance(found, Fit):
                runs = {**told.others.runs, at.mode.pit: found.runs}
                other = Assignment({**plan.placed, told.part.id: found.placed}, runs)
                difference = points(problem, other) - points(problem, plan)
                assert told.dearer(found) == pytest.approx(difference, abs=1e-6)
                moved += 1
    assert moved


def test_where_something_is_in_the_way_it_is_named(two_fires, planned, laid):
    """A refused place has a reason in words, one that fits has none."""
    problem, plan = planned
    for told in told_of(two_fires, problem, plan, laid):
        for by in range(-24, 25, 6):
            at = replace(told.at, start=told.at.start + by)
            why = hindrance(told, at)
            fits = at.start in at.mode.starts and isinstance(fitted(told, at), Fit)
            assert (why is None) == fits
