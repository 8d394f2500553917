"""Planned again, a committed plan changes as little as helps: unchanged loads keep id, place, people."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.planning.plan_json import from_json, to_json
from board.planning.planner import plan_day
from board.planning.replan.begun import begun_as_planned
from board.planning.replan.differences import differences, moved
from board.planning.standing import Standing
from tests.planning.checker import faults
from tests.planning.conftest import DAY
from tests.planning.generator import DAY as DRAWN_DAY
from tests.planning.generator import random_house


def _later(span, by):
    return replace(span, p10=span.p10 + by, p50=span.p50 + by, p90=span.p90 + by)


def begun_at(plan, now, slipped=None, by=timedelta(0)):
    """What stands of a plan at a moment when all so far went as planned, one load later than it should."""
    done = {step.load for step in plan.steps if step.load and step.at <= now}
    loads = [
        replace(
            load,
            pull_at=_later(load.pull_at, by),
            ready_at=_later(load.ready_at, by),
            spare_minutes_p50=load.spare_minutes_p50 - by / timedelta(minutes=1),
        )
        if load.id == slipped
        else load
        for load in plan.loads
        if load.load_at <= now or load.id in done
    ]
    ids, fires = {load.id for load in loads}, {(load.pit, load.light_at) for load in loads}
    making = {step.batch for step in plan.steps if step.batch and step.at <= now}
    batches = [batch for batch in plan.batches if ids & set(batch.loads) or batch.id in making]
    made = {batch.id for batch in batches}
    steps = [s for s in plan.steps if s.load in ids or s.batch in made or (s.pit, s.at) in fires]
    return Standing(tuple(loads), tuple(steps), tuple(batches))


def test_nothing_changes_where_nothing_changed(two_fires, plain_plan):
    """Planned again from itself, with or without a search, a plan differs in nothing and costs the same."""
    for seconds in (0, 1):
        again = plan_day(two_fires, DAY, seconds=seconds, committed=plain_plan)
        assert differences(plain_plan, again, two_fires) == ()
        assert again.cost == plain_plan.cost


@pytest.mark.parametrize(("size", "seed", "tightness"), [("small", 2, 1.6), ("day", 1, 1.6), ("day", 6, 1.6)])
def test_nothing_changes_where_doors_open_often(size, seed, tightness):
    """Cooks stay timed with the openings that their first plan expected, though the plan shows far fewer."""
    house = random_house(size, seed, tightness)
    plan = plan_day(house, DRAWN_DAY, seconds=0)
    assert differences(plan, plan_day(house, DRAWN_DAY, seconds=0, committed=plan), house) == ()


def test_a_plan_read_back_from_paper_is_kept_too(two_fires, plain_plan):
    """Rounded figures of a stored plan do not read as changes."""
    stored = from_json(to_json(plain_plan))
    assert differences(stored, plan_day(two_fires, DAY, seconds=0, committed=stored), two_fires) == ()


def test_what_began_and_what_was_made_are_facts(two_fires, plain_plan):
    """At any hour of the plan, planned again with all done so far as planned, nothing differs."""
    for step in plain_plan.steps[::2]:
        now = step.at + timedelta(minutes=1)
        standing = begun_as_planned(plain_plan, now)
        again = plan_day(two_fires, DAY, seconds=0, now=now, standing=standing, committed=plain_plan)
        assert differences(plain_plan, again, two_fires) == (), now
        assert faults(again, two_fires) == []


def test_a_load_that_slips_moves_only_what_it_hinders(two_fires, plain_plan):
    """An hour's delay of the briskets leaves every load it does not meet where it was."""
    brisket = next(load for load in plain_plan.loads if load.cut == "brisket")
    now = brisket.load_at + timedelta(hours=4)
    standing = begun_at(plain_plan, now, brisket.id, timedelta(hours=1))
    again = plan_day(two_fires, DAY, seconds=1, now=now, standing=standing, committed=plain_plan)
    assert {load.id for load in again.loads} == {load.id for load in plain_plan.loads}
    assert len(moved(plain_plan, again)) <= 3
    late = next(load for load in again.loads if load.id == brisket.id)
    assert late.pull_at.p50 == brisket.pull_at.p50 + timedelta(hours=1)


def test_more_promised_adds_pieces_and_moves_nothing(two_fires, plain_plan):
    """Two more birds at supper are two more pieces in its load or beside it; no other load changes."""
    more = {("supper", "bird"): 14}
    again = plan_day(two_fires, DAY, seconds=1, promises=more, committed=plain_plan)
    told = [d for d in differences(plain_plan, again, two_fires) if d.load]
    assert moved(plain_plan, again) == ()
    assert len(told) == 1
    assert told[0].says.startswith("2 more ")
    assert faults(again, two_fires) == []


def test_a_pit_out_of_use_moves_what_was_on_it(two_fires, plain_plan):
    """Without the cabinet its loads go elsewhere or are told as short; the offset's loads stay."""
    box = replace(two_fires.pits["box"], takes=frozenset({"nothing"}))
    house = replace(two_fires, pits={**two_fires.pits, "box": box})
    again = plan_day(house, DAY, seconds=1, committed=plain_plan)
    stayed = {load.id: load.load_at for load in plain_plan.loads if load.pit == "long"}
    now = {load.id: load for load in again.loads}
    assert all(now[id].load_at == at for id, at in stayed.items() if id not in moved(plain_plan, again))
    assert len(set(moved(plain_plan, again)) & set(stayed)) <= 1
    assert all(load.pit == "long" for load in again.loads)


@settings(max_examples=8)
@given(sliced=st.integers(20, 80), bird=st.integers(6, 24))
def test_unchanged_needs_keep_their_loads_whatever_is_promised(two_fires, plain_plan, sliced, bird):
    """However lunch changes, supper's loads keep their ids, and the plan passes the check."""
    promises = {("lunch", "sliced"): sliced, ("lunch", "bird"): bird}
    again = plan_day(two_fires, DAY, seconds=0, promises=promises, committed=plain_plan)
    supper = {ld.id: ld.pieces for ld in plain_plan.loads if "supper" in ld.services}
    assert supper == {ld.id: ld.pieces for ld in again.loads if "supper" in ld.services}
    assert faults(again, two_fires) == []


def test_food_is_finished_for_the_time_a_service_was_put_at():
    """A service half an hour sooner or later is sliced for then, though its loads stay where they were."""
    house = random_house("small", 103, 1.6)
    plan = plan_day(house, DRAWN_DAY, seconds=0)
    (lunch,) = [one for one in plan.occasions if one.id == "service-1"]
    for minutes in (-30, 30):
        at = lunch.at + timedelta(minutes=minutes)
        moved = replace(house.services[lunch.id], due={DRAWN_DAY: at})
        later = replace(house, services={**house.services, lunch.id: moved})
        after = plan_day(later, DRAWN_DAY, seconds=0, committed=plan)
        needed = {load.id: load.needed_at for load in after.loads if load.services == (lunch.id,)}
        slicing = [step for step in after.steps if step.what == "slice" and step.load in needed]
        assert faults(after, later) == []
        assert slicing
        assert all(timedelta(0) <= at - step.ends_at < timedelta(minutes=15) for step in slicing)
