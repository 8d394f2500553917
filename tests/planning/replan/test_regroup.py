"""Loads split in two and joined to one: pieces and portions stay whole, and plans made after are sound."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.errors import PlanError
from board.planning.planner import plan_day
from board.planning.replan.differences import differences
from board.planning.replan.regroup import Join, Split, regrouped
from board.planning.replan.regroupable import join_of, joinable, split_of, why_alone
from tests.planning.checker import faults
from tests.planning.conftest import DAY
from tests.planning.generator import DAY as DRAWN_DAY
from tests.planning.generator import random_house


def pieces(plan, item):
    """All pieces and portions of an item."""
    loads = [load for load in plan.loads if load.item == item]
    return sum(load.pieces for load in loads), sum(load.portions for load in loads)


def several(plan):
    """The loads of two pieces or more."""
    return [load for load in plan.loads if load.pieces > 1]


@settings(max_examples=40)
@given(data=st.data())
def test_a_split_and_its_join_leave_all_whole(two_fires, plain_plan, data):
    """Split anywhere and joined again, a plan has its loads, masses, portions and batches as before."""
    load = data.draw(st.sampled_from(several(plain_plan)))
    split = split_of(two_fires, plain_plan, load.id, data.draw(st.integers(1, load.pieces - 1)))
    apart = regrouped(plain_plan, [split])
    assert {load.id, split.into} <= {one.id for one in apart.loads}
    assert pieces(apart, load.item) == pieces(plain_plan, load.item)
    both = regrouped(apart, [Join(load.id, split.into)])
    (again,) = [one for one in both.loads if one.id == load.id]
    assert (again.pieces, again.portions) == (load.pieces, load.portions)
    assert again.mass_kg == pytest.approx(load.mass_kg)
    assert {b.id: b.loads for b in both.batches} == {b.id: b.loads for b in plain_plan.batches}
    for before, after in zip(plain_plan.batches, both.batches, strict=True):
        assert sum(after.each_kg) == pytest.approx(sum(before.each_kg))


@settings(max_examples=6)
@given(data=st.data())
def test_a_plan_made_after_a_split_has_it_and_is_sound(two_fires, plain_plan, data):
    """The next plan has both loads with their pieces, passes the check, and stays so planned again."""
    load = data.draw(st.sampled_from(several(plain_plan)))
    split = split_of(two_fires, plain_plan, load.id, data.draw(st.integers(1, load.pieces - 1)))
    after = plan_day(two_fires, DAY, seconds=0, committed=regrouped(plain_plan, [split]))
    assert faults(after, two_fires) == []
    now = {one.id: one.pieces for one in after.loads}
    assert (now[load.id], now[split.into]) == (load.pieces - split.pieces, split.pieces)
    assert differences(after, plan_day(two_fires, DAY, seconds=0, committed=after), two_fires) == ()


def test_joined_loads_are_cooked_as_one(two_fires, plain_plan):
    """Split, planned and joined again, the next plan has one load with all the pieces and no fault."""
    load = several(plain_plan)[0]
    split = split_of(two_fires, plain_plan, load.id, 1)
    apart = plan_day(two_fires, DAY, seconds=0, committed=regrouped(plain_plan, [split]))
    assert joinable(two_fires, apart, load.id, [one.id for one in apart.loads]) == (split.into,)
    join = join_of(two_fires, apart, load.id, split.into)
    after = plan_day(two_fires, DAY, seconds=0, committed=regrouped(apart, [join]))
    now = {one.id: one.pieces for one in after.loads}
    assert now[load.id] == load.pieces
    assert split.into not in now
    assert faults(after, two_fires) == []


def test_a_wish_taken_twice_or_without_its_loads_changes_nothing(plain_plan):
    """A split that is in the plan already, and one of a load that is not, leave the plan as it is."""
    load = several(plain_plan)[0]
    split = Split(load.id, 1, "0610-new-1")
    once = regrouped(plain_plan, [split])
    assert regrouped(once, [split]) == once
    assert regrouped(plain_plan, [Split("nothing", 1, "x"), Join(load.id, "nothing")]) == plain_plan


def test_what_cannot_be_split_or_joined_says_why(two_fires, plain_plan):
    """Too many pieces, no piece, other cuts: each in a line that says what is allowed."""
    load = several(plain_plan)[0]
    for many in (0, load.pieces):
        with pytest.raises(PlanError, match=f"1 to {load.pieces - 1} can go"):
            split_of(two_fires, plain_plan, load.id, many)
    other = next(one for one in plain_plan.loads if one.cut != load.cut)
    with pytest.raises(PlanError, match="cut and item must be the same"):
        join_of(two_fires, plain_plan, load.id, other.id)


def test_a_load_that_is_alone_of_its_cut_says_so(two_fires, plain_plan):
    """Where no other load of the cut is left to join, that is the reason; begun ones do not count."""
    load = several(plain_plan)[0]
    assert "no other load of" in why_alone(two_fires, plain_plan, load.id, [load.id])


@pytest.mark.parametrize("seed", range(1, 7))
def test_in_any_house_split_and_joined_plans_are_sound(seed):
    """In drawn houses every load is split, planned, joined and planned again: no fault, all pieces there."""
    house = random_house("small", seed, 1.2)
    plan = plan_day(house, DRAWN_DAY, seconds=0)
    for load in several(plan)[:2]:
        split = split_of(house, plan, load.id, load.pieces // 2)
        apart = plan_day(house, DRAWN_DAY, seconds=0, committed=regrouped(plan, [split]))
        assert faults(apart, house) == []
        assert differences(apart, plan_day(house, DRAWN_DAY, seconds=0, committed=apart), house) == ()
        if split.into not in joinable(house, apart, load.id, [one.id for one in apart.loads]):
            continue
        joined = regrouped(apart, [Join(load.id, split.into)])
        both = plan_day(house, DRAWN_DAY, seconds=0, committed=joined)
        assert faults(both, house) == []
        assert pieces(both, load.item)[0] == pieces(plan, load.item)[0]


@pytest.mark.parametrize("seed", [106, 111])
def test_a_joined_load_is_short_at_each_service_by_what_it_is_late_for_there(seed):
    """Joined where the later one was, a load is late for its first service: short are that one's portions."""
    house = random_house("small", seed, 1.2)
    plan = plan_day(house, DRAWN_DAY, seconds=0)
    joined = regrouped(plan, [Join("0610-brisket-2", "0610-brisket-1")])
    after = plan_day(house, DRAWN_DAY, seconds=0, committed=joined)
    promised = {occasion.id: occasion.promises for occasion in after.occasions}
    assert after.short
    assert all(short.portions <= promised[short.service][short.item] for short in after.short)
    assert faults(after, house) == []
