"""What a new plan must leave alone, as the ledger knows it."""

from dataclasses import replace
from datetime import timedelta

from board.ledger.state import BatchStage, BatchState, LoadStage, PitState
from board.views.facts import Done
from board.views.standing import standing_for
from tests.app.house_fixture import DAY, at, plan, sunday
from tests.views.facts_fixture import NOW, facts, standing, state

BRISKET = next(load for load in plan().loads if load.id == "sat-brisket")


def ids(stands):
    """The ids of the loads that stand."""
    return {load.id for load in stands.loads}


def test_nothing_begun_leaves_only_the_other_days():
    """A day planned again from scratch is planned around the other days' loads alone."""
    assert ids(standing_for(facts(), DAY)) == {load.id for load in sunday().loads}


def test_a_load_on_the_pit_stands_with_its_steps_and_its_fire():
    """The briskets that are on stay, and so do their steps and the lighting of their pit."""
    on = standing(state("sat-brisket", LoadStage.ON, on_at=BRISKET.load_at))
    stands = standing_for(facts(loads=on), DAY)
    assert "sat-brisket" in ids(stands)
    wanted = {step.id for step in plan().steps if step.load == "sat-brisket"}
    assert wanted <= {step.id for step in stands.steps}


def test_a_load_that_went_on_late_stands_at_its_later_times():
    """Its pull moves with its loading, and its spare and chance with its pull."""
    late = BRISKET.load_at + timedelta(hours=4)
    on = standing(state("sat-brisket", LoadStage.ON, on_at=late))
    (load,) = (ld for ld in standing_for(facts(loads=on), DAY).loads if ld.id == "sat-brisket")
    assert load.load_at == late
    assert load.pull_at.p50 >= BRISKET.pull_at.p50 + timedelta(hours=4)
    assert load.spare_minutes_p50 < BRISKET.spare_minutes_p50
    assert load.chance <= BRISKET.chance


def test_a_load_whose_preparation_has_begun_stands():
    """Meat that is in its brine or rubbed is not planned a second time."""
    step = next(s for s in plan().steps if s.load and s.what not in {"load", "pull", "wrap"})
    marked = {(DAY, step.id): Done(at("20:00", -1), "ines")}
    assert step.load in ids(standing_for(facts(done=marked), DAY))


def test_a_lost_load_is_nothing_to_plan_around():
    """A load that was lost is planned anew."""
    lost = standing(state("sat-brisket", LoadStage.LOST, since=NOW))
    assert "sat-brisket" not in ids(standing_for(facts(loads=lost), DAY))


def test_a_pit_lit_with_no_meat_on_stands_as_burning():
    """Lit two hours ago and empty, it burns at its setpoint from then to now; a cold one does not."""
    lit_at = NOW - timedelta(hours=2)
    pit = BRISKET.pit
    burning = PitState(pit, lit_at, 121.0, None, None)
    (fire,) = standing_for(facts(pits={pit: burning}), DAY).lit
    assert (fire.pit, fire.setpoint_c, fire.since, fire.until) == (pit, 121.0, lit_at, NOW)
    assert standing_for(facts(pits={pit: replace(burning, lit_at=None)}), DAY).lit == ()


def test_a_pit_with_meat_on_burns_by_its_load_alone():
    """Its fire stands with the load that is on it, and is not told twice."""
    on = standing(state("sat-brisket", LoadStage.ON, on_at=BRISKET.load_at))
    pits = {BRISKET.pit: PitState(BRISKET.pit, BRISKET.light_at, 121.0, None, None)}
    assert standing_for(facts(loads=on, pits=pits), DAY).lit == ()


def made(batch, day, stage, **times):
    """The state of a batch, by its key."""
    blank = BatchState(batch.id, day, stage, None, None, None)
    return {(day, batch.id): replace(blank, **times)}


def test_a_batch_that_is_gone_serves_no_other_day():
    """Sunday's batch may have something left for Saturday; thrown away or used up it has not."""
    batch, day = sunday().batches[0], sunday().day
    assert batch in standing_for(facts(), DAY).batches
    for stage in (BatchStage.USED, BatchStage.DISCARDED):
        gone = facts(batches=made(batch, day, stage))
        assert batch.id not in {one.id for one in standing_for(gone, DAY).batches}


def test_a_batch_made_late_stands_as_ready_later():
    """Made five hours after its time it is ready and keeps five hours later; four minutes change nothing."""
    batch, late = plan().batches[0], timedelta(hours=5)
    recipe = facts().house.recipes[batch.recipe]
    on_time = batch.ready_from - timedelta(minutes=recipe.ready_after_minutes)
    for by, moved in ((late, late), (timedelta(minutes=4), timedelta(0))):
        use_by = on_time + timedelta(minutes=recipe.keeps_minutes)
        planned = replace(batch, use_by=use_by)
        saturday = replace(plan(), batches=(planned, *plan().batches[1:]))
        state_of = made(batch, DAY, BatchStage.MADE, made_at=on_time + by)
        now = facts(plans={DAY: saturday, sunday().day: sunday()}, batches=state_of)
        stands = next(one for one in standing_for(now, DAY).batches if one.id == batch.id)
        assert (stands.ready_from, stands.use_by) == (batch.ready_from + moved, use_by + moved)


def test_a_lost_load_is_told_so_that_its_brine_is_not_given_away():
    """What was made for it lies with it in the bin."""
    lost = standing(state("sat-brisket", LoadStage.LOST, since=NOW))
    assert standing_for(facts(loads=lost), DAY).lost == {"sat-brisket"}
