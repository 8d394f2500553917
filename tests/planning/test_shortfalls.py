"""What cannot be done is said: which service, how many portions, what binds, and what would cure it."""

import re
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from board.house.model import Work
from board.planning.planner import plan_day
from tests.planning.by_hand import FILES, written
from tests.planning.checker import faults
from tests.planning.conftest import DAY


def short_of(plan, item):
    """The only shortage of an item."""
    (found,) = [s for s in plan.short if s.item == item]
    return found


def test_a_pit_too_small_says_how_many_portions_are_missing(tmp_path):
    """With little room, what fits is cooked and the rest is told as short, to the portion."""
    pits = FILES["pits.toml"].replace('"1.6 m2"', '"0.35 m2"').replace('"0.9 m2"', '"0.35 m2"')
    house = written(tmp_path, pits=pits)
    plan = plan_day(house, DAY, seconds=0, promises={("lunch", "sliced"): 150})
    short = short_of(plan, "sliced")
    made = sum(load.portions for load in plan.loads if load.item == "sliced")
    assert plan.result == "short"
    assert made > 0
    assert short.service == "lunch"
    assert short.portions == 150 - made
    assert "full" in short.why
    assert faults(plan, house) == []


def test_the_cure_it_names_cures(tmp_path):
    """Given the room a cure asks for, the same day has nothing short."""
    tight = FILES["pits.toml"].replace('"1.6 m2"', '"0.35 m2"').replace('"0.9 m2"', '"0.35 m2"')
    promises = {("lunch", "sliced"): 150, ("lunch", "bird"): 0, ("supper", "bird"): 0}
    short = short_of(plan_day(written(tmp_path, pits=tight), DAY, seconds=1, promises=promises), "sliced")
    cures = [cure for cure in short.cure if "more on" in cure]
    assert cures
    for cure in cures:
        metres, name = float(cure.split(" m²")[0]), "long" if "Long" in cure else "box"
        row = tight.index(f"[{name}]")
        wider = tight[:row] + tight[row:].replace('"0.35 m2"', f'"{0.35 + metres + 0.005:.3f} m2"', 1)
        assert plan_day(written(tmp_path, pits=wider), DAY, seconds=1, promises=promises).short == ()


def test_a_cabinet_too_small_is_named_as_what_binds(tmp_path):
    """Where only the hold is full, the shortage names the hold and how much more it needs."""
    holds = FILES["holds.toml"].replace('"1.6 m2"', '"0.02 m2"').replace('"1.2 m2"', '"0.35 m2"')
    house = written(tmp_path, holds=holds)
    plan = plan_day(house, DAY, seconds=0)
    assert plan.result == "short" or min(load.chance for load in plan.loads) < 0.9
    assert faults(plan, house) == []


def test_nobody_there_to_load_is_said(tmp_path):
    """With only a lunch hand on shift, the briskets of the night are short and the reason is people."""
    crew = '[people.abe]\n[shifts.day]\npeople = ["abe"]\nat = "09:00"\nlasts = "9 h"\nrule = "FREQ=DAILY"\n'
    plan = plan_day(written(tmp_path, crew=crew), DAY, seconds=0)
    assert "nobody is on shift" in short_of(plan, "sliced").why


def test_too_late_by_now_is_said_with_the_time_it_had_to_go_on(two_fires):
    """At six in the morning a brisket for eleven is no longer to be had, and the account says why."""
    now = datetime(2026, 6, 10, 11, 0, tzinfo=UTC)
    short = short_of(plan_day(two_fires, DAY, seconds=0, now=now), "sliced")
    assert "had to go on by" in short.why
    assert short.cure


def test_a_cut_no_pit_takes_is_said(tmp_path):
    """A cut that no pit of the house may cook is short for that reason."""
    pits = FILES["pits.toml"].replace('kind = "offset"', 'kind = "offset"\ntakes = ["chicken-half"]')
    pits = pits.replace('kind = "cabinet"', 'kind = "cabinet"\ntakes = ["chicken-half"]')
    plan = plan_day(written(tmp_path, pits=pits), DAY, seconds=0)
    assert "no pit of this house takes" in short_of(plan, "sliced").why


def test_a_pit_out_of_use_is_said(tmp_path):
    """When every pit is out of use all day, the shortage says so."""
    out = '[[{}.out]]\non = 2026-06-09\nat = "06:00"\nlasts = "40 h"\n'
    pits = FILES["pits.toml"] + out.format("long") + out.format("box")
    plan = plan_day(written(tmp_path, pits=pits), DAY, seconds=0)
    assert "out of use" in short_of(plan, "sliced").why


def test_a_brine_that_had_to_begin_days_ago_is_said(tmp_path):
    """A step of days that cannot be begun in time any more names the step and when it had to begin."""
    cuts = FILES["cuts.toml"].replace('gap = ["3 h", "12 h"]', 'gap = ["60 h", "90 h"]')
    now = datetime(2026, 6, 9, 12, 0, tzinfo=UTC)
    plan = plan_day(written(tmp_path, cuts=cuts), DAY, seconds=0, now=now)
    found = [s for s in plan.short if s.item == "bird"]
    assert {s.service for s in found} == {"lunch", "supper"}
    assert all("brine had to begin by" in s.why for s in found)


def test_one_pair_of_hands_for_everything_is_never_in_two_places(tmp_path):
    """A house of one person gets a plan in which nobody does two things at once."""
    crew = (
        '[people.solo]\n[shifts.all]\npeople = ["solo"]\nat = "00:00"\nlasts = "24 h"\nrule = "FREQ=DAILY"\n'
    )
    house = written(tmp_path, crew=crew)
    assert faults(plan_day(house, DAY, seconds=1), house) == []


def test_late_is_told_with_how_late(two_fires):
    """A load likelier than not after its time is told as short, with the minutes, not hidden."""
    now = datetime(2026, 6, 10, 3, 30, tzinfo=UTC)
    plan = plan_day(
        two_fires, DAY, seconds=0, now=now, promises={("lunch", "bird"): 0, ("supper", "bird"): 0}
    )
    late = [load for load in plan.loads if load.spare_minutes_p50 < 0]
    told = [s for s in plan.short if "late" in s.why]
    assert len(late) == len(told)


@pytest.mark.parametrize("minutes", [0.0, 600.0])
def test_work_of_any_length_is_planned_or_told(two_fires, minutes):
    """Loading that takes no time, or ten hours, ends in a plan or a reason, never in an exception."""
    cuts = {key: replace(cut, load_work=Work(minutes, 0.0)) for key, cut in two_fires.cuts.items()}
    house = replace(two_fires, cuts=cuts)
    plan = plan_day(house, date(2026, 6, 10), seconds=0)
    assert plan.loads or plan.short


def test_a_house_without_a_bench_is_told_so(tmp_path):
    """Where meat has nowhere to rest, the reason says that this house has no bench."""
    holds = '[cabinet]\narea = "1.2 m2"\nsetpoint = "65 C"\n'
    plan = plan_day(written(tmp_path, holds=holds), DAY, seconds=0)
    assert plan.short
    assert "this house has no bench for " in plan.short[0].why


def test_the_account_names_no_range_of_one_number(plain_plan):
    """What pieces likely give is told as a range only where that has two ends."""
    given = [
        re.search(r"give (\d+)(?: to (\d+))? for", line)
        for lines in plain_plan.why.values()
        for line in lines
    ]
    found = [one.groups() for one in given if one]
    assert found
    assert all(low != high for low, high in found)


def test_what_no_change_helps_is_told_by_what_can_be_promised(tmp_path):
    """Ten thousand portions: no cure of a handful is told, but how many there would be."""
    promises = {("lunch", "sliced"): 10_000}
    short = short_of(plan_day(written(tmp_path), DAY, seconds=0, promises=promises), "sliced")
    assert not [cure for cure in short.cure if "more on" in cure or "more bench" in cure]
    assert f"promise {10_000 - short.portions} portions" in short.cure
