"""Plans as a pitmaster meets them: written by hand, planned, and gone over by the independent check."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.house.calendar import local
from board.house.files import read_house
from board.house.seeds import seed_house
from board.planning.plan_json import to_json
from board.planning.planner import plan_day
from tests.planning.by_hand import FILES, written
from tests.planning.checker import faults
from tests.planning.conftest import DAY


def test_an_ordinary_day_can_be_cooked_from(two_fires, plain_plan):
    """A hand-written house's plan has nothing wrong with it and serves all that is promised."""
    assert faults(plain_plan, two_fires) == []
    assert plain_plan.result == "proved"
    assert {load.item for load in plain_plan.loads} == {"sliced", "bird"}
    assert all(load.chance >= 0.9 for load in plain_plan.loads)


def test_the_briskets_cook_through_the_night_before(two_fires, plain_plan):
    """Lunch's briskets go on the evening before, and someone is named for every step."""
    brisket = next(load for load in plain_plan.loads if load.cut == "brisket")
    assert local(brisket.load_at, two_fires).date() == DAY - timedelta(days=1)
    assert brisket.pull_at.p50 - brisket.load_at > timedelta(hours=6)
    assert all(step.who for step in plain_plan.steps)


def test_the_first_plan_alone_can_be_cooked_from(two_fires):
    """Before any search, the plan put together by insertion already passes the check."""
    assert faults(plan_day(two_fires, DAY, seconds=0), two_fires) == []


@pytest.mark.parametrize("day", [date(2026, 3, 8), date(2026, 11, 1)])
def test_a_night_with_a_clock_change_keeps_its_true_length(two_fires, plain_plan, day):
    """On both nights the clocks change, cooks last as long as on any other and the plan holds."""
    plan = plan_day(two_fires, day, seconds=1)
    assert faults(plan, two_fires) == []

    def cook(plan):
        brisket = next(load for load in plan.loads if load.cut == "brisket")
        return brisket.pull_at.p50 - brisket.load_at

    usual = cook(plain_plan)
    assert cook(plan) == pytest.approx(usual, abs=timedelta(hours=3)), (
        "another pit at most, not an hour of clock"
    )
    assert len({local(load.needed_at, two_fires).hour for load in plan.loads}) == 2


def test_the_night_hand_who_leaves_an_hour_early_by_the_clock_leaves_no_fire_alone(two_fires):
    """In November the night's ten hours end at 05:00 by the clock: no tended fire burns until 05:30."""
    plan = plan_day(two_fires, date(2026, 11, 1), seconds=1)
    gap = datetime(2026, 11, 1, 11, 15, tzinfo=UTC)
    burning = [load for load in plan.loads if load.light_at <= gap < load.pull_at.p90]
    assert all(two_fires.pits[load.pit].tend_fraction == 0 for load in burning)


def test_a_service_at_half_past_midnight_belongs_to_its_own_date(tmp_path):
    """A service at 00:30 is planned for the date it is on, its cook the evening before."""
    late = '[late]\nat = "00:30"\nlasts = "2 h"\nrule = "FREQ=DAILY"\npromises = { bird = 10 }\n'
    crew = FILES["crew.toml"].replace('lasts = "15 h"', 'lasts = "20 h"')
    house = written(tmp_path, services=late, crew=crew)
    plan = plan_day(house, DAY, seconds=1)
    assert faults(plan, house) == []
    (load,) = plan.loads
    assert local(load.needed_at, house).date() == DAY
    assert local(load.load_at, house).date() == DAY - timedelta(days=1)


def test_a_day_with_nothing_promised_is_an_empty_plan(tmp_path):
    """No services: no loads, no cost, nothing short, and the plan is proved best."""
    once = '[feast]\nat = "11:00"\nlasts = "2 h"\non = 2026-06-20\npromises = { bird = 10 }\n'
    plan = plan_day(written(tmp_path, services=once), DAY)
    assert (plan.result, plan.cost, plan.loads, plan.steps, plan.short) == ("proved", 0.0, (), (), ())


def test_the_same_question_has_the_same_answer(two_fires):
    """Same house, day and seed give the same document, to the last character."""
    first, second = (to_json(plan_day(two_fires, DAY, seconds=1, seed=3)) for _ in range(2))
    assert first == second


def test_nothing_is_planned_before_now(two_fires):
    """With a moment given, no step lies before it."""
    now = datetime(2026, 6, 10, 5, 30, tzinfo=UTC)
    plan = plan_day(two_fires, DAY, seconds=0, now=now)
    assert all(step.at >= now for step in plan.steps)
    assert faults(plan, two_fires, now=now) == []


def test_a_changed_promise_changes_the_plan(two_fires, plain_plan):
    """A promise typed on the board replaces the house file's, and zero takes it off."""
    plan = plan_day(two_fires, DAY, seconds=0, promises={("lunch", "sliced"): 100, ("supper", "bird"): 0})
    more, usual = (sum(ld.portions for ld in p.loads if ld.item == "sliced") for p in (plan, plain_plan))
    assert more >= 100 > usual
    assert not any("supper" in load.services for load in plan.loads)


def test_a_surer_plan_loads_no_later(two_fires):
    """Asking for 97 in 100 never puts chicken on later, or less surely, than asking for 80."""
    sure, easy = (plan_day(two_fires, DAY, seconds=0, chance=chance) for chance in (0.97, 0.8))
    surer, easier = (
        {(ld.services, ld.pit): ld for ld in plan.loads if ld.cut == "chicken-half"} for plan in (sure, easy)
    )
    alike = surer.keys() & easier.keys()
    assert alike
    assert all(surer[key].load_at <= easier[key].load_at for key in alike)
    assert all(surer[key].chance >= easier[key].chance for key in alike)


def test_the_demo_houses_busiest_day_can_be_cooked_from():
    """All of the busy Saturday before Christmas is served, step by step, with nothing wrong."""
    house = read_house(seed_house("tallow_row"))
    plan = plan_day(house, date(2026, 12, 19), seconds=1)
    assert faults(plan, house) == []
    assert plan.short == ()
    assert 0 < plan.bound < plan.cost


def test_orders_collected_close_together_are_one_load():
    """Whole hams and turkeys for several names within two hours go on together."""
    house = read_house(seed_house("tallow_row"))
    plan = plan_day(house, date(2026, 12, 19), seconds=0)
    assert any(len(load.services) > 1 for load in plan.loads)


@settings(max_examples=12)
@given(
    sliced=st.integers(0, 220),
    birds=st.integers(0, 40),
    room=st.sampled_from(["0.3 m2", "0.9 m2", "2 m2"]),
    cabinet=st.sampled_from(["0.1 m2", "0.5 m2", "3 m2"]),
)
def test_whatever_is_promised_the_plan_holds_or_says_what_is_short(
    tmp_path_factory, sliced, birds, room, cabinet
):
    """For any promises and room, every load passes the check and nothing missing goes unsaid."""
    pits = FILES["pits.toml"].replace('"1.6 m2"', f'"{room}"')
    holds = FILES["holds.toml"].replace('"1.6 m2"', f'"{cabinet}"')
    house = written(tmp_path_factory.mktemp("any"), pits=pits, holds=holds)
    plan = plan_day(house, DAY, seconds=0, promises={("lunch", "sliced"): sliced, ("lunch", "bird"): birds})
    assert faults(plan, house) == []
    assert (plan.result == "short") == bool(plan.short)


def test_a_house_without_altitude_or_prices_still_plans(two_fires):
    """Fuel that costs nothing and a crew that costs nothing leave a plan that holds."""
    pits = {key: replace(pit, fuel_price_per_kg=0.0) for key, pit in two_fires.pits.items()}
    house = replace(two_fires, pits=pits, wage_per_hour=0.0)
    assert faults(plan_day(house, DAY, seconds=0), house) == []


ORDERS = """order,name,collect,item,portions,cut,pieces,note
a1,Smith,{first},bird,{n},,,
a2,Jones,{last},bird,{n},,,
"""
NO_SERVICE = {("lunch", "sliced"): 0, ("lunch", "bird"): 0, ("supper", "bird"): 0}


@pytest.mark.parametrize(("last", "portions"), [("11:20", 12), ("11:20", 40), ("12:45", 40), ("13:05", 50)])
def test_orders_cooked_together_are_each_ready_in_their_own_time(tmp_path, last, portions):
    """Two names for one item: each load tells the time of the first it serves, and waits for the last."""
    orders = ORDERS.format(first="2026-06-10T11:00", last=f"2026-06-10T{last}", n=portions)
    house = written(tmp_path, **{"orders.csv": orders})
    plan = plan_day(house, DAY, seconds=1, promises=NO_SERVICE)
    assert faults(plan, house) == []
    if portions == 12:
        assert plan.short == ()


def test_every_piece_bought_is_cooked(tmp_path):
    """Pieces bought so that the portions are sure are not left raw where pits take one at a time."""
    pits = FILES["pits.toml"].replace('"1.6 m2"', '"0.2 m2"').replace('"0.9 m2"', '"0.2 m2"')
    house = written(tmp_path, pits=pits)
    plan = plan_day(house, DAY, seconds=0, promises=NO_SERVICE | {("lunch", "sliced"): 30})
    (need,) = {load.item for load in plan.loads}
    assert need == "sliced"
    assert sum(load.pieces for load in plan.loads) == 2


def test_no_fire_is_lit_before_now_or_long_before_its_meat(two_fires):
    """Each fire is lit when its first load asks, within the hands there are, and never before now."""
    now = datetime(2026, 6, 10, 9, 0, tzinfo=UTC)
    plan = plan_day(two_fires, DAY, seconds=0.3, now=now)
    for step in (s for s in plan.steps if s.what == "light"):
        first = min(ld.load_at for ld in plan.loads if (ld.pit, ld.light_at) == (step.pit, step.at))
        warm = timedelta(minutes=two_fires.pits[step.pit].warm_up_minutes)
        assert step.at >= now
        assert first - step.at <= warm + timedelta(minutes=30)


def test_a_now_of_long_ago_and_a_promise_beyond_all_measure_still_end(two_fires):
    """Half a century ago is as good as no moment; ten thousand portions are mostly told as short."""
    old = plan_day(two_fires, DAY, seconds=0, now=datetime(1976, 1, 1, tzinfo=UTC))
    assert old.short == ()
    big = plan_day(two_fires, DAY, seconds=0, promises={("lunch", "sliced"): 10_000})
    assert faults(big, two_fires) == []
    assert sum(s.portions for s in big.short) > 5_000
