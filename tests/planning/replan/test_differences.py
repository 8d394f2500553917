"""What one plan changes of another is told once, in order, and nothing is told that did not change."""

from dataclasses import replace
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from board.planning.plan import PlannedBatch, Short
from board.planning.replan.differences import differences, moved


def _with(plan, load):
    return replace(plan, loads=tuple(load if ld.id == load.id else ld for ld in plan.loads))


def test_a_plan_differs_in_nothing_from_itself(two_fires, plain_plan):
    """The same plan twice has no difference."""
    assert differences(plain_plan, plain_plan, two_fires) == ()


def test_another_pit_and_time_are_told_beside_the_old_ones(two_fires, plain_plan):
    """A load that changes pit and time is told with both, the old after `not`."""
    load = next(ld for ld in plain_plan.loads if ld.cut == "brisket")
    other = "box" if load.pit == "long" else "long"
    there = replace(load, pit=other, load_at=load.load_at + timedelta(minutes=90))
    (told,) = differences(plain_plan, _with(plain_plan, there), two_fires)
    new, old = (two_fires.pits[pit].name for pit in (other, load.pit))
    assert told.load == load.id
    assert f"on {new} at " in told.says
    assert f", not {old} at " in told.says
    assert told.at == load.load_at  # it is missed at its old time first


def test_more_pieces_are_told_as_more(two_fires, plain_plan):
    """Six more pieces of one load read so, not as a new load."""
    load = next(ld for ld in plain_plan.loads if ld.cut == "chicken-half")
    (told,) = differences(plain_plan, _with(plain_plan, replace(load, pieces=load.pieces + 6)), two_fires)
    assert told.says.startswith("6 more ")
    assert told.says.endswith(f"{load.pieces + 6} in all")


def test_a_load_likely_late_is_told_with_its_minutes(two_fires, plain_plan):
    """A load that will likely miss its service by twenty minutes says so."""
    load = plain_plan.loads[0]
    late = replace(load, spare_minutes_p50=-20.0, chance=0.1)
    (told,) = differences(plain_plan, _with(plain_plan, late), two_fires)
    assert "now likely 20 min late" in told.says


def test_a_fire_lit_later_is_told_by_how_much(two_fires, plain_plan):
    """A lighting step forty minutes later is told as that, once."""
    step = next(s for s in plain_plan.steps if s.what == "light")
    later = replace(step, at=step.at + timedelta(minutes=40))
    after = replace(plain_plan, steps=tuple(later if s is step else s for s in plain_plan.steps))
    (told,) = differences(plain_plan, after, two_fires)
    assert told.says.startswith(f"light {two_fires.pits[step.pit].name} 40 min later, at ")


def test_what_will_be_short_is_told(two_fires, plain_plan):
    """Portions lacking that were not lacking before are told with their service."""
    after = replace(plain_plan, short=(Short("lunch", "sliced", 4, "the pit is full"),))
    (told,) = differences(plain_plan, after, two_fires)
    assert " is short 4 of " in told.says
    (back,) = differences(after, plain_plan, two_fires)
    assert " no longer short of " in back.says


@given(data=st.data())
def test_each_load_that_changes_is_told_once_in_the_order_of_the_work(two_fires, plain_plan, data):
    """Whatever moves, drops or grows, every changed load is named once, and no unchanged one."""
    changed, loads = set(), []
    for load in plain_plan.loads:
        how = data.draw(st.sampled_from(["stays", "moves", "drops", "grows"]))
        minutes = data.draw(st.sampled_from([-60, -5, 5, 90]))
        if how != "stays":
            changed.add(load.id)
        if how == "moves":
            loads.append(replace(load, load_at=load.load_at + timedelta(minutes=minutes)))
        elif how != "drops":
            loads.append(replace(load, pieces=load.pieces + 2 * (how == "grows")))
    after = replace(plain_plan, loads=tuple(loads))
    told = differences(plain_plan, after, two_fires)
    named = [d.load for d in told if d.load is not None]
    assert sorted(named) == sorted(changed)
    assert [d.at for d in told] == sorted(d.at for d in told)
    assert set(moved(plain_plan, after)) <= changed


def test_a_making_at_another_time_repeats_no_amount(two_fires, plain_plan):
    """The same weight by another time is told by its time alone; a weight no scale shows is not told."""
    by = _glaze(plain_plan)
    later = replace(by, make_by=by.make_by + timedelta(minutes=30))
    (told,) = differences(_making(plain_plan, by), _making(plain_plan, later), two_fires)
    assert told.says.startswith("make 2.4 kg of ")
    assert told.says.partition(", not ")[2].startswith("by ")
    other = replace(by, amount_kg=by.amount_kg + 0.0004)
    assert differences(_making(plain_plan, by), _making(plain_plan, other), two_fires) == ()


def _glaze(plan):
    """A making of 2.4 kg an hour before the first load."""
    first = min(load.load_at for load in plan.loads)
    return PlannedBatch("glaze-1", "glaze", "glaze", 2.4, first - timedelta(hours=1), first, first, ())


def _making(plan, batch):
    return replace(plan, batches=(batch,))


def test_a_pit_that_is_gone_is_said_to_be_gone(two_fires, plain_plan):
    """A load of a pit that the house no longer has is told with words, not with a bare id."""
    load = plain_plan.loads[0]
    (told,) = differences(_with(plain_plan, replace(load, pit="old-barrel")), plain_plan, two_fires)
    assert "not a pit this house no longer has (old-barrel)" in told.says
