"""A pit brought to another setpoint with meat on it, as planned: whether that lies ahead, and when."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from board.ledger.state import LoadStage, LoadState
from board.planning.asked import is_turned_by
from board.planning.plan import Plan, PlannedLoad, PlannedStep
from board.views.facts import Facts, load_state, pit_at

_BEFORE_PULL = (LoadStage.PLANNED, LoadStage.PREPPED, LoadStage.ON, LoadStage.WRAPPED)
SAME_K = 1.0  # a setpoint typed in whole degrees is the planned one
# An overdue turn is taken to come within so long: the sums are asked again as each of these passes.
_SOON = timedelta(minutes=15)
_ASTRAY = timedelta(minutes=15)  # a turn this far from its time changes when the load is done


@dataclass(frozen=True, slots=True)
class Turn:
    """A pit to be brought to another setpoint (°C) at a moment."""

    at: datetime
    celsius: float


def turn_ahead(facts: Facts, plan: Plan, load: PlannedLoad) -> Turn | None:
    """The change of setpoint a load still has ahead; None where it has none, or it was done.

    As late as the load went on, and never in the past: one overdue comes within a quarter of an hour.
    """
    if load.turn_at is None or load.then_c is None or not _is_ahead(facts, plan, load, load.then_c):
        return None
    at = due(facts, plan, load) or load.turn_at
    return Turn(max(at, _next_quarter(facts.now)) if at < facts.now else at, load.then_c)


def due(facts: Facts, plan: Plan, load: PlannedLoad) -> datetime | None:
    """When a load's pit is to be turned: as late as it went on, or is overdue to."""
    if load.turn_at is None:
        return None
    on_at = load_state(facts, load, plan.day).on_at or max(facts.now, load.load_at)
    return load.turn_at + (on_at - load.load_at)


def turned_at(facts: Facts, plan: Plan, load: PlannedLoad) -> datetime | None:
    """When a load's pit was turned with it on; None where that is not known."""
    if load.then_c is None or pit_at(facts, load, plan.day) != load.pit:
        return None
    marks = _asked(facts, load, load_state(facts, load, plan.day))
    return next((at for at, celsius in marks if abs(celsius - (load.then_c or 0.0)) <= SAME_K), None)


def went_astray(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    """Whether a load's pit was turned well before or after its time, or is overdue to be."""
    at = due(facts, plan, load)
    if at is None or load.then_c is None:
        return False
    if _is_ahead(facts, plan, load, load.then_c):
        return facts.now > at + _ASTRAY
    done = turned_at(facts, plan, load)
    return done is None or abs(done - at) > _ASTRAY


def is_turned(facts: Facts, plan: Plan, step: PlannedStep) -> bool | None:
    """Whether a step of setting a pit has nothing left to do for the loads it turns; None without any."""
    turned = [load for load in plan.loads if is_turned_by(load, step.pit, step.at)]
    if not turned:
        return None
    return not any(load.then_c is not None and _is_ahead(facts, plan, load, load.then_c) for load in turned)


def turned_by(plan: Plan, step: PlannedStep) -> PlannedLoad | None:
    """The first load that a step of setting a pit turns."""
    return next((load for load in plan.loads if is_turned_by(load, step.pit, step.at)), None)


def _is_ahead(facts: Facts, plan: Plan, load: PlannedLoad, then_c: float) -> bool:
    """Whether a load is still to be turned: not off or elsewhere, its pit not set so since it went on."""
    state = load_state(facts, load, plan.day)
    if state.stage not in _BEFORE_PULL or pit_at(facts, load, plan.day) != load.pit:
        return False
    assert load.turn_at is not None
    steps = (step for step in plan.steps if step.what == "set" and is_turned_by(load, step.pit, step.at))
    if any((plan.day, step.id) in facts.done for step in steps):
        return False
    return not any(abs(celsius - then_c) <= SAME_K for _, celsius in _asked(facts, load, state))


def _asked(facts: Facts, load: PlannedLoad, state: LoadState) -> list[tuple[datetime, float]]:
    """What its pit was asked since a load went on."""
    if state.on_at is None:
        return []
    return [mark for mark in facts.asked.get(load.pit, ()) if mark[0] > state.on_at]


def _next_quarter(moment: datetime) -> datetime:
    epoch = datetime.fromtimestamp(0, UTC)
    return epoch + ((moment - epoch) // _SOON + 1) * _SOON
