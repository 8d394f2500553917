"""Days with a trap in them: what the plan must answer is argued by hand beside each."""

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from board.house.model import Recurrence
from tests.planning.checker import faults
from tests.planning.traps import exact

CHICAGO = ZoneInfo("America/Chicago")
PLAIN = date(2026, 6, 10)
HALVES = exact.cut("chicken-half", "0.1")
BIRD = exact.item("bird", "chicken-half")


def local(moment):
    """A moment on the house's clock, to the minute."""
    return moment.astimezone(CHICAGO).strftime("%a %H:%M")


def only(plan, item="bird"):
    """The one load of an item."""
    (load,) = [load for load in plan.loads if load.item == item]
    return load


@pytest.mark.parametrize(
    ("day", "loaded"),
    [
        (date(2026, 3, 8), "Sat 23:55"),  # the night of 23 hours
        (date(2026, 3, 15), "Sun 00:55"),
        (date(2026, 11, 1), "Sun 01:55"),  # the night of 25 hours; 01:55 comes twice, this is the first
        (date(2026, 11, 8), "Sun 00:55"),
    ],
)
def test_ten_hours_back_over_a_clock_change_are_ten_hours(tmp_path, monkeypatch, day, loaded):
    """Due 11:00, cooked in 10 h after 5 min of loading: loaded 10 h 05 before, whatever the clock does.

    On 8 March 02:00 becomes 03:00, so eleven hours of the clock lie between; on 1 November 02:00 becomes
    01:00, so nine do.
    """
    exact.exactly(monkeypatch, chicken_half=600)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1),
        cuts=HALVES,
        items=BIRD,
        services=exact.service("lunch", "11:00", bird=4),
    )
    plan = exact.planned(house, day)
    due = datetime(day.year, day.month, day.day, 11, tzinfo=CHICAGO).astimezone(UTC)
    assert only(plan).load_at == due - timedelta(hours=10, minutes=5)
    assert local(only(plan).load_at) == loaded
    assert plan.result == "proved"


def two_services(folder, second):
    """Ten halves fill the pit to the last square centimetre, twice; neither lot can wait or come early."""
    return exact.house(
        folder,
        pits=exact.pit("box", 1),
        cuts=HALVES,
        items=BIRD,
        services=exact.service("lunch", "11:00", bird=10) + exact.service("late", second, bird=10),
    )


def test_a_pit_exactly_full_is_emptied_and_filled_in_the_same_minute(tmp_path, monkeypatch):
    """The first lot is off and out by 11:05; the second, due 13:10 after 2 h and 5 min, goes on at 11:05."""
    exact.exactly(monkeypatch, chicken_half=120)
    plan = exact.planned(two_services(tmp_path, "13:10"), PLAIN)
    assert {local(load.load_at) for load in plan.loads} == {"Wed 08:55", "Wed 11:05"}
    assert plan.short == ()


def test_five_minutes_less_and_the_second_lot_is_five_minutes_late(tmp_path, monkeypatch):
    """Due 13:05, it would have to go on at 11:00, into a pit full until 11:05: ready 13:10 at the soonest."""
    exact.exactly(monkeypatch, chicken_half=120)
    plan = exact.planned(two_services(tmp_path, "13:05"), PLAIN)
    assert [(short.service, short.portions) for short in plan.short] == [("late", 10)]
    assert "5 min late" in plan.short[0].why


def test_two_setpoints_on_the_only_pit_leave_the_smaller_promise_out(tmp_path, monkeypatch):
    """Loin at 110 and birds at 150, both due 11:00, neither held: only one can be on until then.

    Whichever waits goes on at 11:05 and the change-over of an hour at the soonest, so it is over an hour
    and a half late, which is not planned. Ten portions against six: the six are left out.
    """
    exact.exactly(monkeypatch, chicken_half=60, pork_loin=120)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 2, change_over=60),
        cuts=exact.cut("chicken-half", "0.1", low=150, high=155) + exact.cut("pork-loin", "0.1"),
        items=BIRD + exact.item("slice", "pork-loin"),
        services=exact.service("lunch", "11:00", bird=6, slice=10),
    )
    plan = exact.planned(house, PLAIN)
    assert [(short.item, short.portions) for short in plan.short] == [("bird", 6)]
    assert "another setpoint" in plan.short[0].why


def waiting_house(folder, holds):
    """Two people until 02:10 and again from 08:00: the load of 6 h goes on by 02:10, and waits for 11:00."""
    return exact.house(
        folder,
        pits=exact.pit("box", 1),
        cuts=exact.cut("chicken-half", "0.1", rest=30, hold=240),
        items=BIRD,
        services=exact.service("lunch", "11:00", bird=4),
        holds=holds,
        crew=exact.crew(("late", ("nan", "abe"), "18:10", 8), ("day", ("dot", "eli"), "08:00", 8)),
    )


BENCH = '[bench]\narea = "1 m2"\n'
SMALL = '[small]\narea = "0.3 m2"\nsetpoint = "65 C"\n'
COLD = '[cold]\narea = "2 m2"\nsetpoint = "50 C"\n'
ROOMY = '[roomy]\narea = "0.4 m2"\nsetpoint = "60 C"\n'


def test_a_load_waits_in_a_hold_that_is_just_large_enough(tmp_path, monkeypatch):
    """Loaded 02:05 to 02:10, off 08:10, rested 08:40, held until 11:00 on 0.4 m² exactly."""
    exact.exactly(monkeypatch, chicken_half=360)
    plan = exact.planned(waiting_house(tmp_path, BENCH + ROOMY), PLAIN)
    load = only(plan)
    assert local(load.load_at) == "Wed 02:05"
    assert (load.hold, load.hold_minutes_p50, plan.short) == ("roomy", 140.0, ())


def test_a_hold_too_small_and_one_too_cold_to_be_safe_are_no_hold(tmp_path, monkeypatch):
    """Three of the four halves fit the small one; the cold one is 7 K under what hot food is held at.

    FDA Food Code 2022, 3-501.16(A)(1): 57 °C or above.
    """
    exact.exactly(monkeypatch, chicken_half=360)
    house = waiting_house(tmp_path, BENCH + SMALL + COLD)
    plan = exact.planned(house, PLAIN)
    assert [(short.item, short.portions) for short in plan.short] == [("bird", 1)]
    assert all(load.hold != "cold" for load in plan.loads)
    assert "hold" in plan.short[0].why
    assert "Cold" in plan.short[0].why
    assert any("Cold set to" in cure for cure in plan.short[0].cure)


def test_nobody_at_the_computed_minute_loads_while_somebody_is_there(tmp_path, monkeypatch):
    """Due 11:00 after 7 h: to be loaded at 03:55, but nobody is there from 03:00 to 05:00.

    It may be held 3 h: loading begins at 02:55, when it is just done before the hand leaves.
    """
    exact.exactly(monkeypatch, chicken_half=420)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1),
        cuts=exact.cut("chicken-half", "0.1", hold=180),
        items=BIRD,
        services=exact.service("lunch", "11:00", bird=4),
        crew=exact.crew(("night", ("nan",), "19:00", 8), ("day", ("dot", "eli"), "05:00", 10)),
    )
    plan = exact.planned(house, PLAIN)
    assert local(only(plan).load_at) == "Wed 02:55"
    assert plan.short == ()


def test_a_day_that_cannot_be_done_says_exactly_how_much_of_it(tmp_path, monkeypatch):
    """Ten fit the pit at once and nothing can be held: of 25 for one moment, 15 are missing."""
    exact.exactly(monkeypatch, chicken_half=120)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1),
        cuts=HALVES,
        items=BIRD,
        services=exact.service("lunch", "11:00", bird=25),
    )
    plan = exact.planned(house, PLAIN)
    in_time = sum(load.portions for load in plan.loads if load.spare_minutes_p50 >= 0)
    assert in_time == 10
    assert sum(short.portions for short in plan.short) == 15
    assert plan.result == "short"


@pytest.mark.parametrize(("tend", "served"), [(20, 20), (40, 10)])
def test_one_night_hand_watches_two_fires_only_if_each_leaves_enough_of_him(
    tmp_path, monkeypatch, tend, served
):
    """Two loads, each filling a pit, due 06:00, on all night; one hand, who gives a task 60 of 100.

    At 20 a fire he works beside both: 20 + 20 + 60 = 100. At 40 one fire and a task are 100 and two fires
    and a task 140, so the second cannot even be lit.
    """
    exact.exactly(monkeypatch, chicken_half=300, pork_loin=300)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1, tend=tend) + exact.pit("den", 1, tend=tend),
        cuts=exact.cut("chicken-half", "0.1", hold=60) + exact.cut("pork-loin", "0.1", hold=60),
        items=BIRD + exact.item("slice", "pork-loin"),
        services=exact.service("breakfast", "06:00", bird=10, slice=10),
        crew=exact.crew(("night", ("nan",), "20:00", 12)),
    )
    plan = exact.planned(house, PLAIN)
    assert sum(load.portions for load in plan.loads) == served
    assert faults(plan, house) == []


def test_a_brine_due_before_the_house_opened_is_said_with_its_time(tmp_path, monkeypatch):
    """Brined 60 to 62 h before 09:00 on Wednesday: Sunday evening, when only Monday to Friday has a shift."""
    exact.exactly(monkeypatch, chicken_half=120)
    brine = '[[chicken-half.prep]]\nwhat = "brine"\nwork = { fixed = "10 min" }\ngap = ["60 h", "62 h"]\n'
    crew = '[people.abe]\n[shifts.day]\npeople = ["abe"]\nat = "06:00"\nlasts = "14 h"\n'
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1),
        cuts=HALVES + brine,
        items=BIRD,
        services=exact.service("lunch", "11:00", bird=4),
        crew=crew + 'rule = "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR"\n',
    )
    plan = exact.planned(house, PLAIN)
    (short,) = plan.short
    assert (short.portions, plan.loads) == (4, ())
    assert "brine had to begin by" in short.why
    assert "Sun 7 Jun" in short.why


def test_no_load_is_held_too_long_by_a_rest_shorter_than_its_slot(tmp_path, monkeypatch):
    """The pit is out of use from 09:05, so birds are off at 09:00, really done at 08:56 after 61 minutes.

    Rested at 08:59, they would wait 121 minutes for 11:00, and 120 are allowed: they are not cooked so.
    """
    exact.exactly(monkeypatch, chicken_half=61)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1),
        cuts=exact.cut("chicken-half", "0.1", rest=3, rest_most=4, hold=120),
        items=BIRD,
        services=exact.service("lunch", "11:00", bird=4),
    )
    closed = (Recurrence(PLAIN, time(9, 5), 180.0),)
    house = replace(house, pits={"box": replace(house.pits["box"], out_of_use=closed)})
    plan = exact.planned(house, PLAIN)
    assert [load.hold_minutes_p50 for load in plan.loads if load.hold_minutes_p50 > 120] == []
    assert faults(plan, house) == []
