"""What is decided already stays: other days' loads keep their room and people, begun loads stay planned."""

import json
from dataclasses import replace
from datetime import date, timedelta

import pytest

from board.house.files import read_house
from board.house.model import Zone
from board.house.seeds import seed_house
from board.house.spans import TimeSpan
from board.planning.area import cm2
from board.planning.grid import Grid
from board.planning.plan_json import from_json
from board.planning.planner import plan_day
from board.planning.replan.begun import begun_as_planned
from board.planning.standing import Standing, standing_of, taken_on
from tests.planning.by_hand import FILES, written
from tests.planning.checker import faults
from tests.planning.conftest import DAY
from tests.planning.days import together
from tests.planning.generator import DAY as DRAWN_DAY
from tests.planning.generator import random_house


@pytest.fixture(scope="module")
def evening_house(tmp_path_factory):
    """A house of one pit, whose suppers burn it when tomorrow's early briskets want to go on."""
    services = """
[lunch]
at = "07:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = { sliced = 60 }
[supper]
at = "20:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = { bird = 14 }
"""
    pits = FILES["pits.toml"]
    pits = pits[pits.index("[box]") :].replace('"0.9 m2"', '"0.8 m2"')
    return written(tmp_path_factory.mktemp("evening"), services=services, pits=pits)


def test_two_days_planned_one_after_the_other_fit_together(evening_house):
    """The second day's plan leaves the first day's fires, room and people alone."""
    first = plan_day(evening_house, DAY, seconds=1)
    second = plan_day(evening_house, DAY + timedelta(days=1), seconds=1, standing=standing_of([first]))
    assert faults(together(first, second), evening_house) == []


def test_planned_blindly_the_two_days_clash(evening_house):
    """Without knowing of the first day, the second would be in its way: so the test above can fail."""
    first = plan_day(evening_house, DAY, seconds=1)
    blind = plan_day(evening_house, DAY + timedelta(days=1), seconds=1)
    assert faults(together(first, blind), evening_house) != []


def test_the_demo_houses_busy_days_fit_together():
    """Friday, Saturday and Sunday before Christmas can be cooked from one after the other."""
    house = read_house(seed_house("tallow_row"))
    plans = []
    for day in (18, 19, 20):
        plans.append(plan_day(house, date(2026, 12, day), seconds=0, standing=standing_of(plans)))
    assert faults(together(*plans), house) == []


def test_a_load_that_has_begun_stays_as_it_is(two_fires, plain_plan):
    """Planned again at three in the morning, the briskets already on stay on, and serve their portions."""
    brisket = next(load for load in plain_plan.loads if load.cut == "brisket")
    now = brisket.load_at + timedelta(hours=4)
    begun = Standing((brisket,), tuple(s for s in plain_plan.steps if s.load == brisket.id or s.at < now))
    again = plan_day(two_fires, DAY, seconds=1, now=now, standing=begun)
    assert brisket in again.loads
    assert sum(load.portions for load in again.loads if load.item == "sliced") == brisket.portions
    assert again.short == ()
    assert all(step.at >= now for step in again.steps if step not in begun.steps)


def test_more_promised_is_added_to_what_has_begun(two_fires, plain_plan):
    """A promise raised while the briskets cook plans more briskets beside them, under new names."""
    brisket = next(load for load in plain_plan.loads if load.cut == "brisket")
    begun = Standing((brisket,), tuple(s for s in plain_plan.steps if s.load == brisket.id))
    more = {("lunch", "sliced"): brisket.portions + 30}
    again = plan_day(two_fires, DAY, seconds=0, promises=more, standing=begun)
    assert len({load.id for load in again.loads}) == len(again.loads)
    assert sum(load.portions for load in again.loads if load.item == "sliced") >= brisket.portions + 30


def test_a_known_fire_is_shared_not_lit_again(two_fires, plain_plan):
    """A load that joins a fire burning already adds no lighting step for it."""
    chicken = [load for load in plain_plan.loads if load.cut == "chicken-half"]
    begun = Standing(tuple(chicken), tuple(s for s in plain_plan.steps if s.load in {c.id for c in chicken}))
    again = plan_day(two_fires, DAY, seconds=1, standing=begun)
    new = [load for load in again.loads if load not in chicken]
    lit = {(s.pit, s.at) for s in again.steps if s.what in {"light", "set"}}
    for load in new:
        assert (load.pit, load.light_at) in lit or load.light_at in {c.light_at for c in chicken}


def test_the_plans_that_come_with_the_demo_can_be_cooked_from():
    """The stored Friday, Saturday and Sunday are plans of the house as its files tell it."""
    folder = seed_house("tallow_row")
    stored = sorted(folder.glob("plan-*.json"))
    plans = [from_json(json.loads(path.read_text(encoding="utf-8"))) for path in stored]
    assert [plan.day.day for plan in plans] == [18, 19, 20]
    assert faults(together(*plans), read_house(folder)) == []


def test_a_load_whose_zone_is_not_known_takes_room_in_each(two_fires, plain_plan):
    """A plan made before the pit had zones leaves no zone of it to be filled twice."""
    load = plain_plan.loads[0]
    pit = two_fires.pits[load.pit]
    zones = tuple(Zone(name, name, pit.area_m2 / 2) for name in ("top", "low"))
    house = replace(two_fires, pits={**two_fires.pits, pit.id: replace(pit, zones=zones)})
    grid = Grid(load.light_at, 300)
    both = taken_on(grid, house, Standing((load,))).cooking
    assert len(both[f"{pit.id}/top"]) == len(both[f"{pit.id}/low"]) == 1
    one = taken_on(grid, house, Standing((replace(load, zone="low"),))).cooking
    assert (len(one[f"{pit.id}/top"]), len(one[f"{pit.id}/low"])) == (0, 1)


def test_a_load_running_past_its_service_still_has_its_pit_and_bench(two_fires, plain_plan):
    """Meat due before the grid begins and not off yet is on the pit, whatever it was promised for.

    By hand: due at the grid's start, off 60 minutes later at the latest and 30 as a rule: 12 slots on the
    pit, on the bench from slot 6 on, and nothing kept hot for a service that is over.
    """
    load = plain_plan.loads[0]
    start = load.needed_at
    late = TimeSpan(*(start + timedelta(minutes=m) for m in (20, 30, 60)))
    taken = taken_on(Grid(start, 300), two_fires, Standing((replace(load, pull_at=late),)))
    ((begin, end, area),) = taken.cooking[load.pit]
    assert (begin, end, area) == (0, 12, cm2(load.area_m2))
    assert [(run.begin, run.end) for run in taken.runs[load.pit]] == [(0, 12)]
    assert [stay[0] for stay in taken.bench] == [6]
    assert all(stay[0] == stay[1] for stay in taken.hold)


@pytest.fixture(scope="module")
def in_the_midst():
    """Drawn houses, planned again when a share of their steps is done, all as planned."""
    return [_again_in_the_midst(seed, share) for seed, share in ((1, 0.3), (3, 0.3), (3, 0.6))]


def _again_in_the_midst(seed, share):
    house = random_house("tiny", seed, 1.6)
    plan = plan_day(house, DRAWN_DAY, seconds=0)
    steps = sorted(step.at for step in plan.steps)
    now = steps[int(share * len(steps))] + timedelta(minutes=1)
    begun = begun_as_planned(plan, now)
    return house, plan_day(house, DRAWN_DAY, seconds=0, now=now, standing=begun, committed=plan)


def test_no_hold_takes_more_beside_what_is_planned_to_stand_in_it(in_the_midst):
    """Meat on its way to one hold leaves only the other to loads planned now, however roomy both are."""
    for house, again in in_the_midst:
        assert {load.hold for load in again.loads} >= {"tall-0", "short-0"}
        assert [fault for fault in faults(again, house) if "alone holds" in fault] == []


def test_a_load_that_joins_a_fire_lit_before_the_grid_begins_names_its_lighting(in_the_midst):
    """Its `light_at` is the moment of the step that lit the fire, hours before anything left to plan."""
    for house, again in in_the_midst:
        lit = {(step.pit, step.at) for step in again.steps if step.what in {"light", "set"}}
        assert {(load.pit, load.light_at) for load in again.loads} <= lit
        assert faults(again, house) == []


def test_doors_open_for_what_stands_when_its_steps_are_planned(in_the_midst):
    """Loads that have begun open a pit in the slots of their loading, wrapping and pulling, no sooner."""
    for house, again in in_the_midst:
        start = min(step.at for step in again.steps)
        grid = Grid(start, 600)
        at_doors = [step for step in again.steps if step.load and step.what in {"load", "wrap", "pull"}]
        pits = {load.id: load.pit for load in again.loads}
        opened = taken_on(grid, house, standing_of([again])).openings
        for pit, slots in opened.items():
            assert set(slots) == {grid.floor(step.at) for step in at_doors if pits[step.load] == pit}
