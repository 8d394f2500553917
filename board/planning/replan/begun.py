"""What stands of a plan at a moment when all so far went as it was planned."""

from collections.abc import Iterator
from datetime import datetime

from board.planning.plan import Plan
from board.planning.standing import Lit, Standing


def begun_as_planned(plan: Plan, now: datetime) -> Standing:
    """The loads of a plan with any step before a moment, and the batches made or meant for them.

    For a plan without a record of what was really done.
    """
    done = {step.load for step in plan.steps if step.load and step.at < now}
    loads = tuple(load for load in plan.loads if load.load_at < now or load.id in done)
    ids, fires = {load.id for load in loads}, {(load.pit, load.light_at) for load in loads}
    making = {step.batch for step in plan.steps if step.batch and step.at < now}
    batches = tuple(batch for batch in plan.batches if ids & set(batch.loads) or batch.id in making)
    made = {batch.id for batch in batches}
    steps = tuple(
        step for step in plan.steps if step.load in ids or step.batch in made or (step.pit, step.at) in fires
    )
    draws = tuple(draw for draw in plan.draws if draw.load in ids)
    return Standing(loads, steps, batches, tuple(_lit(plan, fires, now)), draws)


def _lit(plan: Plan, fires: set[tuple[str, datetime]], now: datetime) -> Iterator[Lit]:
    """Pits lit before a moment whose first meat is not on yet."""
    for step in plan.steps:
        if step.what != "light" or step.pit is None or step.at >= now or (step.pit, step.at) in fires:
            continue
        first = next((ld for ld in plan.loads if (ld.pit, ld.light_at) == (step.pit, step.at)), None)
        if first is not None:
            yield Lit(step.pit, first.setpoint_c, step.at, now, (step,))
