"""When a batch is ready and until when it is good, by when it was really made and what was read of it."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from board.ledger.state import BatchStage, BatchState, Reading
from board.planning.plan import Plan, PlannedBatch, PlannedStep
from board.safety.limits import cold_hold_most_c
from board.views import names
from board.views.days import when
from board.views.facts import Facts, batch_state

_CHILLED = ("brine", "cure")  # what must be cold before meat goes in


@dataclass(frozen=True, slots=True)
class BatchTimes:
    """When a batch is ready and goes off; `known` says how that is known, `cold` whether it is ready now."""

    made_at: datetime
    ready_from: datetime
    use_by: datetime
    is_ready: bool
    known: str


def make_step(plan: Plan, batch: PlannedBatch) -> PlannedStep | None:
    """The planned step in which a batch is made."""
    own = (s for s in plan.steps if s.batch == batch.id and s.load is None and s.what.startswith("make"))
    return next(own, None)


def planned_end(plan: Plan, batch: PlannedBatch) -> datetime:
    """When a batch is made by the plan."""
    step = make_step(plan, batch)
    return step.ends_at if step else batch.make_by


def make_minutes(facts: Facts, plan: Plan, batch: PlannedBatch) -> float:
    """How long its making takes: as planned, or as its recipe says where no step is planned."""
    step, recipe = make_step(plan, batch), facts.house.recipes.get(batch.recipe)
    if step is not None:
        return step.minutes
    return recipe.make_work.minutes(1) if recipe else 0.0


def times(facts: Facts, plan: Plan, batch: PlannedBatch) -> BatchTimes:
    """A batch's times: moved with its making, and ready when it was read cold or its time has come.

    One not made yet is taken as made when planned, or now and its minutes where that is past.
    """
    state, end = batch_state(facts, batch, plan.day), planned_end(plan, batch)
    made_at = state.made_at or _likely_end(facts, plan, batch, end)
    ready_from, use_by = made_at + (batch.ready_from - end), made_at + (batch.use_by - end)
    if state.made_at is None:
        return BatchTimes(made_at, ready_from, use_by, is_ready=False, known="")
    at, known = _ready(facts, batch, state, ready_from)
    return BatchTimes(
        made_at, at, use_by, is_ready=at <= facts.now and not known.startswith("not"), known=known
    )


def _likely_end(facts: Facts, plan: Plan, batch: PlannedBatch, end: datetime) -> datetime:
    return max(end, facts.now + timedelta(minutes=make_minutes(facts, plan, batch)))


def _ready(facts: Facts, batch: PlannedBatch, state: BatchState, planned: datetime) -> tuple[datetime, str]:
    """From when a made batch is ready, and how that is known."""
    if state.ready_at is not None:
        return state.ready_at, f"marked ready at {when(facts, state.ready_at)}"
    if batch.kind not in _CHILLED or state.made_at is None or planned <= state.made_at:
        return planned, ""
    read = facts.chilling.get((state.day, batch.id), ())
    most_c = cold_hold_most_c(facts.house.jurisdiction)
    cold = next((one for one in read if one.temperature_c <= most_c), None)
    if cold is not None:
        return cold.at, f"ready: {_said(facts, cold)}"
    if read:
        return max(planned, facts.now), f"not cold yet: {_said(facts, read[-1])}"
    return (
        planned,
        "ready by its planned time; nobody has read how cold it is" if planned <= facts.now else "",
    )


def _said(facts: Facts, one: Reading) -> str:
    return f"read {names.degrees(facts.house, one.temperature_c)} at {when(facts, one.at)}"


def is_gone(stage: BatchStage) -> bool:
    """Whether nothing is left of a batch."""
    return stage in (BatchStage.USED, BatchStage.DISCARDED)
