"""Each opening of a pit for other meat makes the meat on it take longer, and the plan reckons with it."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from board.planning import planner
from board.planning.build import build
from board.planning.demand import needs_of
from board.planning.doors import opened
from board.planning.dues import occasions_on
from board.planning.problem import Assignment, late_points
from board.planning.reckoning import laid_again
from board.planning.search.insertion import insertion
from board.planning.weights import usual_weights
from tests.planning.traps import exact

DAY = date(2026, 6, 10)
MINUTES = timedelta(minutes=1)


def house_with_doors(folder, minutes, **promises):
    """A pit whose door costs so many minutes, on for lunch with birds of 2 h and loins of 4 h."""
    return exact.house(
        folder,
        pits=exact.pit("box", 2).replace('door = "0 min"', f'door = "{minutes} min"'),
        cuts=exact.cut("chicken-half", "0.1") + exact.cut("pork-loin", "0.1"),
        items=exact.item("bird", "chicken-half") + exact.item("slice", "pork-loin"),
        services=exact.service("lunch", "11:00", **promises),
    )


@pytest.mark.parametrize("door", [0, 5, 10])
def test_a_load_is_put_on_earlier_by_what_the_openings_cost_it(tmp_path, monkeypatch, door):
    """The birds go on while the loins cook, and come off with them: one opening for the loins, none for the
    birds, as both come off in the last minute.

    The loins cook 240 min and as many more as one opening costs; the birds 120.
    """
    exact.exactly(monkeypatch, chicken_half=120, pork_loin=240)
    plan = exact.planned(house_with_doors(tmp_path, door, bird=4, slice=4), DAY)
    cooked = {ld.item: (ld.pull_at.p50 - ld.load_at) / MINUTES - 5 for ld in plan.loads}
    assert cooked["slice"] == 240 + door
    assert cooked["bird"] in {120, 120 + door}
    assert all(load.spare_minutes_p50 >= 0 for load in plan.loads)


def test_a_load_alone_is_not_made_to_wait_for_its_own_door(tmp_path, monkeypatch):
    """Its own loading and pulling cost it nothing."""
    exact.exactly(monkeypatch, pork_loin=240)
    plan = exact.planned(house_with_doors(tmp_path, 10, slice=4), DAY)
    (load,) = plan.loads
    assert (load.pull_at.p50 - load.load_at) / MINUTES == 245


def test_a_plan_laid_again_with_longer_cooks_gives_way_by_a_few_slots(tmp_path, monkeypatch):
    """Loins reckoned with two more openings go on four slots sooner, not four slots late.

    By hand: two openings of ten minutes are four slots of five; pulled at the last moment before, at the
    same start they would be 20 minutes late.
    """
    exact.exactly(monkeypatch, chicken_half=120, pork_loin=240)
    house, weights = house_with_doors(tmp_path, 10, bird=4, slice=4), usual_weights()
    needs = needs_of(house, occasions_on(house, DAY), weights.enough_chance)
    before = build(house, needs, weights, seed=0, now=None)
    plan = insertion(before)
    (loin,) = (part for part in before.parts if part.need.item == "slice")
    after = opened(before, [(loin.id, "box", 2)])
    found = laid_again(after, plan)
    assert found.placed.keys() == plan.placed.keys()
    assert plan.placed[loin.id].start - found.placed[loin.id].start == 4
    assert all(late_points(after, part, found.placed[part.id]) == 0 for part in after.parts)


def test_a_plan_changed_after_its_search_reckons_with_the_doors_it_shows(tmp_path, monkeypatch):
    """Birds moved into the loins' cook for want of hands open the door on the loins, which cook the longer.

    By hand: they go on an hour sooner, so the door is opened twice while the loins are on: two openings.
    """
    exact.exactly(monkeypatch, chicken_half=120, pork_loin=240)
    bare = iter([("",), ()])
    monkeypatch.setattr(planner, "bare_parts", lambda _laid: next(bare, ()))
    monkeypatch.setattr(planner, "reseat", lambda problem, plan, _bare: (problem, an_hour_sooner(plan)))
    monkeypatch.setattr(planner, "_how_bare", lambda tried: -tried[0].problem.frame.openings.get(LOIN, 0))
    plan = exact.planned(house_with_doors(tmp_path, 10, bird=4, slice=4), DAY, seconds=0)
    cooked = {ld.item: (ld.pull_at.p50 - ld.load_at) / MINUTES - 5 for ld in plan.loads}
    assert cooked["slice"] == 240 + 2 * 10


LOIN = ("lunch-slice-1", "box")


def an_hour_sooner(plan):
    """The plan with its birds an hour sooner."""
    birds = {key: replace(at, start=at.start - 12) for key, at in plan.placed.items() if "bird" in key}
    return Assignment({**plan.placed, **birds}, plan.runs)
