"""What a new plan must leave alone: other days' loads, and those of its own day that have begun."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from datetime import date, timedelta

from board.batches.merge import ready_and_use_by
from board.house.spans import Span, minutes_between
from board.ledger.state import BatchStage, LoadStage
from board.planning.cook_times import CookTime
from board.planning.plan import Plan, PlannedBatch, PlannedLoad
from board.planning.standing import Lit, Standing
from board.views.facts import Facts, all_loads, batch_state, load_state, pit_at
from board.views.likely import likely_times
from board.views.progress import Revised

# A making so much sooner or later than planned moves nothing.
_ABOUT = timedelta(minutes=5)


def standing_for(facts: Facts, day: date, revised: Revised | None = None) -> Standing:
    """Everything decided for a plan of this day, at the times now likely.

    A load has begun once anything has been marked for it, its first brine included; a lost load is
    nothing to plan around.
    """
    loads = [(plan, load) for plan, load in all_loads(facts) if _stands(facts, plan, load, day)]
    kept = {(plan.day, load.id) for plan, load in loads}
    batches = [
        (plan.day, batch)
        for plan in facts.plans.values()
        for batch in plan.batches
        if _batch_stands(facts, plan, batch, day, kept)
    ]
    made = {(of, batch.id) for of, batch in batches}
    fires = {(plan.day, load.pit, load.light_at) for plan, load in loads}
    steps = [
        step
        for plan in facts.plans.values()
        for step in plan.steps
        if (plan.day, step.load) in kept
        or (plan.day, step.batch) in made
        or (plan.day, step.pit, step.at) in fires
    ]
    cooking = {pit_at(facts, load, plan.day) for plan, load in loads if _on(facts, plan, load)}
    return Standing(
        tuple(_as_likely(facts, plan, load, revised) for plan, load in loads),
        tuple(steps),
        tuple(_as_made(facts, of, batch) for of, batch in batches),
        tuple(_lit(facts, day, cooking)),
        tuple(
            draw
            for plan in facts.plans.values()
            for draw in plan.draws
            if plan.day != day or (day, draw.load) in kept
        ),
        frozenset(
            load.id
            for plan, load in all_loads(facts)
            if load_state(facts, load, plan.day).stage is LoadStage.LOST
        ),
    )


def _as_made(facts: Facts, of: date, batch: PlannedBatch) -> PlannedBatch:
    """A batch with when it is really fit for use; made about when it was planned, as it was planned."""
    state, recipe = batch_state(facts, batch, of), facts.house.recipes.get(batch.recipe)
    if state.made_at is None or recipe is None:
        return batch
    ready_from, use_by = ready_and_use_by(recipe, state.made_at)
    ready_from = state.ready_at or ready_from
    if abs(ready_from - batch.ready_from) <= _ABOUT and abs(use_by - batch.use_by) <= _ABOUT:
        return batch
    return replace(batch, ready_from=ready_from, use_by=use_by)


def _batch_stands(
    facts: Facts, plan: Plan, batch: PlannedBatch, day: date, kept: Collection[tuple[date, str]]
) -> bool:
    """Whether a batch is there, or is still to be made for what stands; one that is gone serves nothing."""
    stage = batch_state(facts, batch, plan.day).stage
    if plan.day != day:
        return stage not in {BatchStage.USED, BatchStage.DISCARDED}
    return any((day, load) in kept for load in batch.loads) or stage not in {
        BatchStage.DUE,
        BatchStage.DISCARDED,
    }


def _on(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    return load_state(facts, load, plan.day).stage in {LoadStage.ON, LoadStage.WRAPPED}


def _lit(facts: Facts, day: date, cooking: Collection[str]) -> Iterator[Lit]:
    """Pits that burn with no meat on them yet: they are hot, and not lit again."""
    plan = facts.plans.get(day)
    for pit, state in facts.pits.items():
        if pit in cooking or pit not in facts.house.pits or state.lit_at is None or state.setpoint_c is None:
            continue
        done = tuple(
            step
            for step in (plan.steps if plan else ())
            if step.pit == pit and step.what == "light" and (day, step.id) in facts.done
        )
        yield Lit(pit, state.setpoint_c, state.lit_at, facts.now, done)


def _stands(facts: Facts, plan: Plan, load: PlannedLoad, day: date) -> bool:
    stage = load_state(facts, load, plan.day).stage
    if stage is LoadStage.LOST:
        return False
    return plan.day != day or stage is not LoadStage.PLANNED or _touched(facts, plan, load)


def _touched(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    return any(step.load == load.id and (plan.day, step.id) in facts.done for step in plan.steps)


def _as_likely(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None) -> PlannedLoad:
    """The load with its true loading, and its pull, readiness and chance as they are likely now."""
    begun = load_state(facts, load, plan.day).on_at or load.load_at
    times = likely_times(facts, plan, load, revised)
    minutes = [minutes_between(begun, t) for t in (times.ready.p10, times.ready.p50, times.ready.p90)]
    cook = CookTime(Span(*(max(m, 1.0) for m in minutes)), None)
    return replace(
        load,
        pit=pit_at(facts, load, plan.day),
        load_at=begun,
        pull_at=times.pull,
        ready_at=times.ready,
        spare_minutes_p50=times.spare_minutes,
        chance=cook.chance(minutes_between(begun, load.needed_at)),
    )
