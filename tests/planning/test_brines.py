"""Batches in time: boiled, chilled, read, covered and drained by somebody, in pots that stand empty."""

import random
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest

from board.planning.plan_json import from_json, to_json
from board.planning.planner import plan_day
from board.planning.replan.begun import begun_as_planned
from board.planning.replan.differences import differences
from board.planning.standing import Standing, standing_of
from tests.planning.brining import NO_POTS, brining
from tests.planning.checker import faults
from tests.planning.days import together

DAY = date(2026, 6, 10)
ICE = 'boil = "10 min"\nchill = "ice"\nvessel = "pot"\ncontainer = "tub"'
WALK_IN = 'boil = "10 min"\nchill = "walk-in"\nvessel = "pot"\ncontainer = "tub"'
TUB = 'container = "tub"'
TWICE = """
[lunch]
at = "12:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = { bird = 6 }
[supper]
at = "18:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = { bird = 6 }
"""
HAM = """
[lunch]
at = "12:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = { ham = 20 }
"""


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    """The house with pots and tubs enough, and its plan."""
    house = brining(tmp_path_factory.mktemp("brining"))
    return house, plan_day(house, DAY, seconds=0)


def of_batch(plan, what):
    """The steps of a kind of the plan's first batch."""
    return [s for s in plan.steps if s.batch == plan.batches[0].id and s.what == what]


def test_a_brine_is_boiled_chilled_read_and_only_then_used(plain):
    """Made, ten minutes on the boil, set to cool, read at 21 °C (70 °F) and at 4 °C, then ready."""
    house, plan = plain
    assert faults(plan, house) == []
    (make,), (chill,), reads = (of_batch(plan, what) for what in ("make", "chill", "check"))
    assert chill.at - make.ends_at == timedelta(minutes=10)
    assert [read.most_c for read in reads] == pytest.approx([21.0, 4.0], abs=0.2)
    assert make.ends_at < chill.at < reads[0].at < reads[1].at <= plan.batches[0].ready_from
    assert all(step.who for step in plan.steps)
    first_use = min(step.at for step in plan.steps if step.what == "brine")
    assert reads[1].at <= first_use


def test_one_making_serves_both_loads_in_pots_that_take_it(plain):
    """10.8 kg for turkeys and chickens: one making in one pot, each load's share told."""
    _, plan = plain
    (batch,) = plan.batches
    assert (batch.vessel, batch.vessels, batch.container) == ("pot", 1, "tub")
    assert sorted(batch.each_kg) == pytest.approx([3.6, 7.2])
    assert sum(batch.each_kg) == pytest.approx(batch.amount_kg)


def test_a_house_without_containers_plans_as_it_did(tmp_path):
    """No boil, no pot: one step to make it, and nothing told of containers."""
    house = brining(tmp_path, NO_POTS)
    plan = plan_day(house, DAY, seconds=0)
    assert faults(plan, house) == []
    assert [step.what for step in plan.steps if step.batch] == ["make"]
    assert plan.batches[0].vessel is None


def test_ice_weighed_into_the_water_needs_one_reading(tmp_path):
    """Half of it is ice: cold once stirred, a single reading, ready 25 min after its making."""
    house = brining(tmp_path, ICE)
    plan = plan_day(house, DAY, seconds=0)
    assert faults(plan, house) == []
    assert [step.most_c for step in of_batch(plan, "check")] == [4.0]
    (make,) = of_batch(plan, "make")
    assert plan.batches[0].ready_from - make.ends_at == timedelta(minutes=25)
    assert plan.batches[0].ice_kg == pytest.approx(0.5 * plan.batches[0].amount_kg, rel=0.02)


def test_a_brine_that_cools_too_slowly_is_told_with_what_would_do(tmp_path):
    """A 40 L pot straight into the walk-in: the plan says so, and what cools it in time."""
    house = brining(tmp_path, WALK_IN)
    plan = plan_day(house, DAY, seconds=0)
    told = [says for says in plan.cautions if "cools too slowly" in says]
    assert len(told) == 1
    assert "weighed in as ice" in told[0]
    assert faults(plan, house) == []


def test_what_no_pot_takes_at_once_is_made_in_several_makings_one_after_the_other(tmp_path):
    """10.8 kg in one pot of 4.5 kg: three makings, and the pot never holds two."""
    house = brining(tmp_path, pot="5 L", pots=1)
    plan = plan_day(house, DAY, seconds=0)
    assert faults(plan, house) == []
    assert len(plan.batches) == 3
    assert all(batch.amount_kg <= 4.5 + 1e-9 for batch in plan.batches)
    makes = sorted((s.at, s.batch) for s in plan.steps if s.what == "make")
    ready = {batch.id: batch.ready_from for batch in plan.batches}
    for (_, before), (at, _) in pairwise(makes):
        assert ready[before] <= at


def test_several_pots_at_once_are_told(tmp_path):
    """With three such pots it is one making in three pots."""
    house = brining(tmp_path, pot="5 L", pots=3)
    plan = plan_day(house, DAY, seconds=0)
    assert faults(plan, house) == []
    assert [batch.vessels for batch in plan.batches] == [3]


def test_loads_that_need_not_lie_at_once_take_the_tub_in_turn(tmp_path):
    """One tub, chickens for lunch and for supper: the second are covered once the first are drained."""
    house = brining(tmp_path, services=TWICE, tubs=2)
    plan = plan_day(house, DAY, seconds=0)
    assert faults(plan, house) == []
    assert not any("would be full" in says for says in plan.cautions)


def test_too_few_tubs_are_told(tmp_path):
    """One tub for turkeys, chickens and what is left of their brine: told from when to when."""
    house = brining(tmp_path, tubs=1)
    plan = plan_day(house, DAY, seconds=0)
    told = [says for says in plan.cautions if "tubs would be full" in says]
    assert told
    assert "the house has 1" in told[0]
    assert faults(plan, house) == []


def test_brine_counts_in_the_walk_in_and_is_named(tmp_path):
    """Room for the meat alone is too little; what is in the way names the brine."""
    house = brining(tmp_path, walk_in="18.5 kg")
    plan = plan_day(house, DAY, seconds=0)
    told = [says for says in plan.cautions if "walk-in" in says]
    assert told
    assert "10.8 kg of bird brine" in told[0]
    assert faults(plan, house) == []


def test_a_glaze_is_made_in_the_rest_where_hands_allow(tmp_path):
    """Butter, sugar and honey in equal parts: made after the pull and before it is brushed on."""
    house = brining(tmp_path, services=HAM)
    plan = plan_day(house, DAY, seconds=0)
    assert faults(plan, house) == []
    (glaze,) = (batch for batch in plan.batches if batch.recipe == "honey-glaze")
    make = next(s for s in plan.steps if s.batch == glaze.id)
    pull = next(s for s in plan.steps if s.what == "pull")
    brush = next(s for s in plan.steps if s.what == "glaze")
    assert pull.at <= make.at
    assert make.ends_at <= glaze.make_by <= brush.at


@pytest.mark.parametrize("pots", [1, 2])
@pytest.mark.parametrize("takes", ["14 kg", "30 kg"])
@pytest.mark.parametrize("making", [ICE, WALK_IN])
@pytest.mark.parametrize("walk_in", ["12 kg", "500 kg"])
def test_any_such_house_is_planned_without_fault(tmp_path, pots, takes, making, walk_in):
    """Whatever the pots, tubs and cooling: what does not fit or cool in time is told, and nothing else."""
    house = brining(tmp_path, making, pot="8 L", pots=pots, takes=takes, tubs=2, walk_in=walk_in)
    assert faults(plan_day(house, DAY, seconds=0), house) == []


def _changed(plan, **change):
    return replace(plan, batches=(replace(plan.batches[0], **change), *plan.batches[1:]))


def _without(plan, what):
    return replace(plan, steps=tuple(step for step in plan.steps if step.what != what))


def _later(plan, what, hours):
    by = timedelta(hours=hours)
    steps = (replace(s, at=s.at + by, ends_at=s.ends_at + by) if s.what == what else s for s in plan.steps)
    return replace(plan, steps=tuple(steps))


PLANTED = {
    "less for a load than it takes": (lambda p: _changed(p, each_kg=(1.0, 3.6)), "for 7.200"),
    "more taken than made": (lambda p: _changed(p, amount_kg=9.0), "that are taken"),
    "a pot overfull": (lambda p: _changed(p, vessels=0), "are overfull"),
    "ready before it is cold": (
        lambda p: _changed(p, ready_from=p.batches[0].ready_from - timedelta(minutes=80)),
        "when it is told as ready",
    ),
    "used before it is ready": (
        lambda p: _changed(p, ready_from=p.batches[0].use_by),
        "is not good when brine begins",
    ),
    "never set to cool": (lambda p: _without(p, "chill"), "not set to cool"),
    "never read": (lambda p: _without(p, "check"), "no reading"),
    "read too late": (lambda p: _later(p, "check", 7), "no reading of 21.0 C"),
    "a reading that nobody takes": (
        lambda p: replace(p, steps=tuple(replace(s, who=None) if s.what == "check" else s for s in p.steps)),
        "nobody does it",
    ),
    "a slowness told of none": (
        lambda p: replace(p, cautions=("10.8 kg of bird brine cools too slowly: by fan.",)),
        "told as too slow",
    ),
    "tubs told as full that are not": (
        lambda p: replace(p, cautions=("7 tubs would be full and the house has 6.",)),
        "are filled at once of 6, told",
    ),
}


@pytest.mark.parametrize("kind", PLANTED)
def test_a_planted_fault_is_found(plain, kind):
    """The check finds each, in words that name it."""
    house, plan = plain
    plant, words = PLANTED[kind]
    assert any(words in fault for fault in faults(plant(plan), house)), faults(plant(plan), house)


def test_a_tub_filled_twice_and_a_walk_in_over_full_are_found(plain):
    """The same plan in a house with fewer tubs, or less room kept cold, and nothing said of it."""
    house, plan = plain
    tub = replace(house.containers["tub"], count=1)
    fewer = replace(house, containers={**house.containers, "tub": tub})
    assert any("filled at once of 1, not told" in fault for fault in faults(plan, fewer))
    assert any("the walk-in holds" in fault for fault in faults(plan, replace(house, walk_in_kg=19.0)))


def test_a_plan_with_brines_comes_back_from_its_document(plain):
    """Amounts, pots, ice and readings are kept; a document from before them is still a plan."""
    house, plan = plain
    document = to_json(plan)
    back = from_json(document)
    assert to_json(back) == document
    assert faults(back, house) == []
    for batch in document["batches"]:
        for key in ("each_kg", "vessel", "vessels", "container", "ice_kg"):
            del batch[key]
    for step in document["steps"]:
        del step["most_c"]
    del document["draws"]
    assert from_json(document).batches[0].loads == plan.batches[0].loads


def test_planned_again_from_an_old_document_its_batches_still_serve(plain):
    """A stored plan that does not tell who takes what: planned again from it nothing is made twice."""
    house, plan = plain
    old = replace(plan, batches=tuple(replace(b, each_kg=()) for b in plan.batches))
    standing = Standing(batches=old.batches, steps=tuple(s for s in old.steps if s.batch))
    again = plan_day(house, DAY, seconds=0, committed=old, standing=standing)
    assert [batch.id for batch in again.batches] == [batch.id for batch in plan.batches]
    assert again.batches[0].each_kg == pytest.approx(plan.batches[0].each_kg)


def made(plan):
    """The plan's batches as made, nothing else begun."""
    return Standing(batches=plan.batches, steps=tuple(s for s in plan.steps if s.batch))


def test_a_load_that_grows_after_its_brine_was_made_gets_more(plain):
    """Two more birds than the brine was made for: what is missing is made, and no load goes short."""
    house, plan = plain
    promises = {("lunch", "bird"): 8}
    again = plan_day(house, DAY, seconds=0, committed=plan, standing=made(plan), promises=promises)
    assert faults(again, house) == []
    first, *more = [batch for batch in again.batches if batch.recipe == "bird-brine"]
    assert first.amount_kg == plan.batches[0].amount_kg
    chickens = sum(load.mass_kg for load in again.loads if load.item == "bird")
    assert sum(batch.amount_kg for batch in more) == pytest.approx(0.6 * (chickens - 6.0), rel=1e-3)


def test_a_load_that_shrinks_leaves_its_brine_to_another(plain):
    """Half the turkeys are called off and as much more chicken is wanted: nothing new is made."""
    house, plan = plain
    promises = {("lunch", "sliced"): 8, ("lunch", "bird"): 12}
    again = plan_day(house, DAY, seconds=0, committed=plan, standing=made(plan), promises=promises)
    assert faults(again, house) == []
    assert [batch.id for batch in again.batches] == [plan.batches[0].id]
    assert sum(again.batches[0].each_kg) <= plan.batches[0].amount_kg + 1e-6


def spare_of(plan, kg):
    """The plan with more of its brine made than its loads take."""
    batch = plan.batches[0]
    return replace(plan, batches=(replace(batch, amount_kg=batch.amount_kg + kg), *plan.batches[1:]))


def test_what_is_left_of_another_days_brine_serves_a_load_and_only_one(plain):
    """4 kg over and keeping: tomorrow's 3.6 kg come from it; it is told, and not given to the day after."""
    house, plan = plain
    house = replace(house, services={"lunch": replace(house.services["lunch"], promises={"bird": 6})})
    recipe = replace(house.recipes["bird-brine"], keeps_minutes=4 * 1440.0)
    house = replace(house, recipes={**house.recipes, "bird-brine": recipe})
    keeping = replace(plan.batches[0], use_by=plan.batches[0].use_by + timedelta(days=2))
    first = spare_of(replace(plan, batches=(keeping,)), 4.0)
    second = plan_day(house, DAY + timedelta(days=1), seconds=0, standing=standing_of([first]))
    (draw,) = second.draws
    assert (draw.batch, draw.kg) == (keeping.id, pytest.approx(3.6))
    assert second.batches == ()
    assert faults(second, house) == []
    assert to_json(from_json(to_json(second))) == to_json(second)
    third = plan_day(house, DAY + timedelta(days=2), seconds=0, standing=standing_of([first, second]))
    assert third.draws == ()
    assert [batch.amount_kg for batch in third.batches] == [pytest.approx(3.6)]


def test_what_has_gone_off_or_is_too_little_serves_nothing(plain):
    """A batch past its use-by, or with less than a load takes, is left alone."""
    house, plan = plain
    house = replace(house, services={"lunch": replace(house.services["lunch"], promises={"bird": 6})})
    day = DAY + timedelta(days=1)
    little = spare_of(replace(plan, batches=(replace(plan.batches[0], use_by=plan.batches[0].use_by),)), 3.0)
    for left in (little, spare_of(plan, 0.0)):
        again = plan_day(house, day, seconds=0, standing=standing_of([left]))
        assert again.draws == ()
        assert len(again.batches) == 1
    stale = replace(plan.batches[0], amount_kg=50.0, use_by=plan.batches[0].ready_from)
    again = plan_day(house, day, seconds=0, standing=Standing(batches=(stale,)))
    assert again.draws == ()


def test_what_was_made_for_a_lost_load_is_not_given_away(plain):
    """The turkeys were lost with the brine they lay in: more chicken gets brine of its own."""
    house, plan = plain
    turkeys = next(load.id for load in plan.loads if load.item == "sliced")
    standing = replace(made(plan), lost=frozenset({turkeys}))
    promises = {("lunch", "sliced"): 0, ("lunch", "bird"): 12}
    again = plan_day(house, DAY, seconds=0, committed=plan, standing=standing, promises=promises)
    assert len(again.batches) == 2
    assert again.batches[1].amount_kg == pytest.approx(3.6, rel=0.5)
    held = dict(zip(again.batches[0].loads, again.batches[0].each_kg, strict=True))
    assert held[turkeys] == pytest.approx(7.2)


def test_brine_left_over_serves_a_load_that_no_new_making_would_reach(plain):
    """At three in the morning more birds are wanted: 2 h of chilling is too long, 6 kg left are in time."""
    house, plan = plain
    house = replace(house, services={"lunch": replace(house.services["lunch"], promises={"bird": 6})})
    now = next(step.at for step in plan.steps if step.load and "chicken" in step.load) - timedelta(minutes=30)
    without = plan_day(house, DAY, seconds=0, now=now)
    assert without.short
    left = spare_of(plan, 6.0)
    with_it = plan_day(house, DAY, seconds=0, now=now, standing=Standing(batches=left.batches))
    assert not with_it.short
    assert [draw.batch for draw in with_it.draws] == [plan.batches[0].id]
    assert faults(with_it, house, now) == []


@pytest.mark.parametrize("place", ["uk", "eu"])
def test_a_brine_is_chilled_under_any_jurisdiction(plain, place):
    """Whose tables the house reads changes no step, only which marks it is read at."""
    house = replace(plain[0], jurisdiction=place)
    plan = plan_day(house, DAY, seconds=0)
    assert [step.what for step in plan.steps if step.batch][:2] == ["make", "chill"]
    assert any(step.what == "check" for step in plan.steps)


@pytest.mark.parametrize(
    "how",
    [{}, {"pot": "5 L", "pots": 1}, {"tubs": 1}, {"services": HAM}, {"making": WALK_IN, "walk_in": "12 kg"}],
)
def test_planned_again_nothing_changes_where_nothing_changed(tmp_path, how):
    """From itself, and at any hour with all done so far as planned, the plan stays as it is."""
    house = brining(tmp_path, **how)
    plan = plan_day(house, DAY, seconds=0)
    assert differences(plan, plan_day(house, DAY, seconds=0, committed=plan), house) == ()
    for step in plan.steps[::3]:
        now = step.at + timedelta(minutes=1)
        begun = begun_as_planned(plan, now)
        again = plan_day(house, DAY, seconds=0, now=now, standing=begun, committed=plan)
        assert differences(plan, again, house) == (), step.id
        assert {b.id for b in again.batches} == {b.id for b in plan.batches}


DRAWN = """
[lunch]
at = "12:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = {{ sliced = {}, bird = {}, ham = {} }}
[supper]
at = "18:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = {{ sliced = {}, bird = {} }}
"""


def drawn(folder, seed):
    """The house with its cooling, pots, tubs, walk-in and promises drawn by chance."""
    pick = random.Random(seed).choice
    chill = pick(["ice", "ice-bath", "walk-in"])
    return brining(
        folder,
        f'boil = "10 min"\nchill = "{chill}"\nvessel = "pot"\n{pick(["", TUB])}',
        walk_in=pick(["5 kg", "15 kg", "30 kg", "500 kg"]),
        services=DRAWN.format(
            pick([0, 16, 64]), pick([0, 8, 20]), pick([0, 20]), pick([0, 24]), pick([4, 12])
        ),
        pot=pick(["4 L", "8 L", "15 L", "60 L"]),
        pots=pick([1, 2, 3]),
        takes=pick(["6 kg", "12 kg", "25 kg", "60 kg"]),
        tubs=pick([1, 2, 3, 8]),
    )


@pytest.mark.parametrize("seed", range(10))
def test_drawn_houses_are_planned_day_after_day_without_fault(tmp_path, seed):
    """Two days of a house drawn by chance, the second around the first: each alone, and amounts together."""
    house = drawn(tmp_path, seed)
    first = plan_day(house, DAY, seconds=0)
    second = plan_day(house, DAY + timedelta(days=1), seconds=0, standing=standing_of([first]))
    assert faults(first, house) == []
    apart = ("filled at once", "walk-in")  # what both days fill is told in the second
    assert [fault for fault in faults(second, house) if not any(words in fault for words in apart)] == []
    both = together(first, second)
    assert [fault for fault in faults(both, house) if "that are taken" in fault] == []
