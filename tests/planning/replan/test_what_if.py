"""A load tried elsewhere tells its chance, the cost and every rule it breaks, and leaves the plan alone."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import PlanError
from board.planning.planner import plan_day
from board.planning.problem import points
from board.planning.replan.desk import desk_of
from board.planning.replan.differences import differences, moved
from board.planning.replan.keeping import seated
from board.planning.replan.pin import Pin, pin_of
from board.planning.replan.what_if import what_if, with_pieces
from tests.planning.by_hand import FILES, written
from tests.planning.checker import faults
from tests.planning.conftest import DAY


@pytest.fixture(scope="module")
def desk(two_fires, plain_plan):
    """The plain plan laid open."""
    return desk_of(two_fires, plain_plan)


def test_a_plan_laid_open_costs_what_it_cost(desk, plain_plan):
    """The desk holds the plan itself: the same cost, every load in its place."""
    assert points(desk.problem, desk.plan) == pytest.approx(plain_plan.cost)
    for load in plain_plan.loads:
        at = desk.plan.placed[desk.parts[load.id].id]
        assert (at.mode.pit, desk.problem.frame.grid.moment(at.start)) == (load.pit, load.load_at)


def test_a_load_left_where_it_is_breaks_and_changes_nothing(desk, plain_plan):
    """Tried at its own place, a load keeps its chance and the plan its cost."""
    for load in plain_plan.loads:
        tried = what_if(desk, pin_of(load))
        assert tried.broken == ()
        assert tried.after == tried.before
        assert tried.after.chance == pytest.approx(load.chance)
        assert tried.after.spare_minutes == pytest.approx(load.spare_minutes_p50)


def test_a_plan_is_laid_open_as_it_stands_even_where_its_crew_has_become_too_few(two_fires, plain_plan):
    """Fires that take all of somebody leave nobody to load or pull; the plan is shown, not mended."""
    pits = {key: replace(pit, tend_fraction=1.0) for key, pit in two_fires.pits.items()}
    short_handed = desk_of(replace(two_fires, pits=pits), plain_plan)
    assert seated(short_handed.problem).displaced
    for load in plain_plan.loads:
        before = what_if(short_handed, pin_of(load)).before
        assert (before.pit, before.load_at) == (load.pit, load.load_at)
        assert before.chance == pytest.approx(load.chance)


def test_later_is_less_sure(desk, plain_plan):
    """Half an hour later on the same pit, a load is ready half an hour later and less likely in time."""
    load = next(ld for ld in plain_plan.loads if ld.cut == "brisket")
    tried = what_if(desk, replace(pin_of(load), at=load.load_at + timedelta(minutes=30)))
    assert tried.after.spare_minutes == pytest.approx(load.spare_minutes_p50 - 30)
    assert tried.after.chance < tried.before.chance


def test_fewer_pieces_leave_portions_unserved(desk, plain_plan):
    """With half its briskets, lunch lacks portions, and the plan costs at least what they are worth."""
    load = next(ld for ld in plain_plan.loads if ld.cut == "brisket")
    tried = what_if(desk, pin_of(load), pieces=load.pieces // 2)
    lacking = 60 - load.portions * (load.pieces // 2) // load.pieces - 1
    least = desk.problem.frame.weights.unserved_portion * lacking
    assert tried.after.cost - tried.before.cost > least - tried.before.cost
    lost = desk.part(load.id).worth - with_pieces(desk.problem, desk.part(load.id), tried.pieces).worth
    once = desk.problem.frame.weights.unserved_portion * lost
    assert tried.after.costs.unserved - tried.before.costs.unserved == pytest.approx(once)


def test_a_place_already_taken_is_told_with_who_is_there(two_fires, plain_plan, desk):
    """Twice the birds beside the briskets are more than the cabinet's 0.9 m², and it says with whom."""
    brisket = next(ld for ld in plain_plan.loads if ld.cut == "brisket")
    bird = next(ld for ld in plain_plan.loads if ld.cut == "chicken-half")
    assert brisket.pit == "box"
    assert brisket.area_m2 + 2 * bird.area_m2 > two_fires.pits["box"].area_m2
    tried = what_if(desk, Pin(bird.id, "box", brisket.load_at), pieces=2 * bird.pieces)
    full = next(broken for broken in tried.broken if broken.limit == "pit room")
    assert full.says.startswith(f"{two_fires.pits['box'].name} is full at ")
    assert full.says.endswith(f"with {brisket.pieces} briskets")
    assert full.others == (desk.parts[brisket.id].id,)


def test_a_pit_that_does_not_take_the_cut_is_refused(tmp_path):
    """A cut tried on a pit that is not for it is refused by name."""
    house = written(tmp_path, pits=FILES["pits.toml"] + 'takes = ["chicken-half"]\n')
    plan = plan_day(house, DAY, seconds=0)
    brisket = next(load for load in plan.loads if load.cut == "brisket")
    with pytest.raises(PlanError, match="does not take"):
        what_if(desk_of(house, plan), Pin(brisket.id, "box", brisket.load_at))


@given(data=st.data())
def test_what_breaks_nothing_can_be_pinned_and_passes_the_check(two_fires, plain_plan, desk, data):
    """Whatever place a trial finds nothing against is kept exactly in the next plan, which is sound."""
    load = data.draw(st.sampled_from(plain_plan.loads))
    pit = data.draw(st.sampled_from(sorted(two_fires.pits)))
    by = 5 * data.draw(st.integers(-8, 8))
    pin = Pin(load.id, pit, load.load_at + timedelta(minutes=by))
    if what_if(desk, pin).broken:
        return
    again = plan_day(two_fires, DAY, seconds=0, committed=plain_plan, pins=[pin])
    there = next(ld for ld in again.loads if ld.id == load.id)
    assert (there.pit, there.load_at) == (pin.pit, pin.at)
    assert set(moved(plain_plan, again)) <= {load.id}
    assert faults(again, two_fires) == []


@given(data=st.data())
def test_a_pin_is_kept_exactly_or_refused_in_one_line(two_fires, plain_plan, data):
    """Any pin at all either holds in the next plan, or is refused with a line that names the rule."""
    load = data.draw(st.sampled_from(plain_plan.loads))
    pit = data.draw(st.sampled_from(sorted(two_fires.pits)))
    at = load.load_at + timedelta(minutes=data.draw(st.integers(-400, 400)))
    refused = ""
    try:
        again = plan_day(two_fires, DAY, seconds=0, committed=plain_plan, pins=[Pin(load.id, pit, at)])
    except PlanError as error:
        refused = str(error)
    if refused:
        assert "\n" not in refused
        assert load.id in refused
        return
    there = next(ld for ld in again.loads if ld.id == load.id)
    assert (there.pit, there.load_at) == (pit, at)
    assert faults(again, two_fires) == []


def test_unpinned_a_load_may_come_back(two_fires, plain_plan):
    """Planned again without the pin from the plan made with it, nothing is left of it but what it cost."""
    load = next(ld for ld in plain_plan.loads if ld.cut == "brisket")
    pin = replace(pin_of(load), at=load.load_at - timedelta(minutes=20))
    around = plan_day(two_fires, DAY, seconds=0, committed=plain_plan, pins=[pin])
    back = plan_day(two_fires, DAY, seconds=0, committed=plain_plan)
    assert [d.load for d in differences(plain_plan, around, two_fires) if d.load] == [load.id]
    assert differences(plain_plan, back, two_fires) == ()


def test_a_pin_needs_the_plan_that_has_its_load(two_fires):
    """Without a committed plan there is no load to pin, and the error says so."""
    with pytest.raises(PlanError, match="no load 'x'"):
        plan_day(two_fires, DAY, seconds=0, pins=[Pin("x", "long", None)])
