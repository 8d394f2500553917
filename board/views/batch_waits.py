"""What waits for a batch, and what fails with it when it comes late.

Counted on from when the batch is ready: the work that takes it and what follows it before the pit, each with
the shortest gap its cut allows. What that takes beyond a load's spare makes its service late. Whether hands
are free then is left to planning anew.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.calendar import local
from board.house.model import StepRule
from board.house.spans import minutes_between
from board.house.wording import day_name, duration
from board.ledger.state import BatchStage
from board.planning.plan import Plan, PlannedBatch, PlannedLoad, PlannedStep
from board.views import names
from board.views.batch_times import is_gone, make_minutes, planned_end, times
from board.views.days import when
from board.views.facts import Facts, batch_state
from board.views.reference import ref
from board.views.steps import is_done
from board.views.taking import Claim, rules_of, waiting
from board.views.text import inert

LATE_MINUTES = 1.0


@dataclass(frozen=True, slots=True)
class Waiting:
    """A load that waits for a batch: when it takes it, how far it moves, how late its service then is.

    `start_by` is the last moment at which the batch can be begun with its service still in time.
    """

    key: str
    load: PlannedLoad
    meat: str
    service: str
    takes_at: datetime
    moves_minutes: float
    late_minutes: float
    start_by: datetime


def waits(facts: Facts, plan: Plan, batch: PlannedBatch) -> tuple[Waiting, ...]:
    """The loads that wait for a batch, by when they take it."""
    ready = times(facts, plan, batch).ready_from
    found = [_waiting(facts, plan, batch, pair, ready) for pair in waiting(facts, plan, batch)]
    return tuple(sorted(found, key=lambda one: (one.takes_at, one.key)))


def _waiting(
    facts: Facts, plan: Plan, batch: PlannedBatch, pair: tuple[Claim, PlannedStep], ready: datetime
) -> Waiting:
    of, load, step = pair[0].plan, pair[0].load, pair[1]
    work, due, spare = _ahead(facts, of, load, step)
    moves = max(0.0, minutes_between(due, ready + work)) if ready > step.at else 0.0
    making = timedelta(minutes=make_minutes(facts, plan, batch)) + (
        batch.ready_from - planned_end(plan, batch)
    )
    return Waiting(
        key=ref(of.day, load.id),
        load=load,
        meat=names.pieces(facts.house, load),
        service=_service(facts, of, load),
        takes_at=step.at,
        moves_minutes=moves,
        late_minutes=max(0.0, moves - spare),
        start_by=due + timedelta(minutes=spare) - work - making,
    )


def _ahead(
    facts: Facts, plan: Plan, load: PlannedLoad, first: PlannedStep
) -> tuple[timedelta, datetime, float]:
    """The least time from taking the batch to loading or to the plate, when that is due, and its spare."""
    before_pit = first.at < load.load_at
    ruled = _with_rules(facts, plan, load)
    ahead = [
        (step, rule)
        for step, rule in ruled
        if first.at <= step.at
        and (step.at < load.load_at) == before_pit
        and (step == first or not is_done(facts, plan, step))
    ]
    least = sum(step.minutes + (rule.gap_minutes[0] if before_pit else 0.0) for step, rule in ahead)
    due, spare = (load.load_at, load.spare_minutes_p50) if before_pit else (load.needed_at, 0.0)
    return timedelta(minutes=least), due, max(0.0, spare)


def _with_rules(facts: Facts, plan: Plan, load: PlannedLoad) -> list[tuple[PlannedStep, StepRule]]:
    """A load's planned steps of work, each with the house's rule for it; the n-th of a kind with the n-th."""
    steps = sorted((s for s in plan.steps if s.load == load.id), key=lambda s: s.at)
    found, left = [], list(rules_of(facts, load))
    for step in steps:
        rule = next((one for one in left if one.what == step.what), None)
        if rule is not None:
            left.remove(rule)
            found.append((step, rule))
    return found


def _service(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """What a load is for: `lunch`, `lunch tomorrow`, `lunch on Sunday 20 December`."""
    called = {occasion.id: inert(occasion.name) for occasion in plan.occasions}
    said = names.listed([called.get(id, inert(id)) for id in load.services])
    ahead = (plan.day - facts.today).days
    day = {0: "today", 1: "tomorrow"}.get(ahead, f"on {day_name(plan.day)}")
    return f"{said} {day}"


def waits_line(facts: Facts, found: Sequence[Waiting]) -> str:
    """What waits, in a sentence: `waits: 6 hams for lunch on Sunday 20 December`."""
    for_each: dict[str, list[PlannedLoad]] = {}
    for one in found:
        for_each.setdefault(one.service, []).append(one.load)
    said = [f"{names.all_pieces(facts.house, loads)} for {service}" for service, loads in for_each.items()]
    return f"waits: {names.listed(said)}" if said else ""


def fails(facts: Facts, plan: Plan, batch: PlannedBatch, found: Sequence[Waiting]) -> tuple[str, ...]:
    """What a batch that is late, or gone, does to each load that waits for it."""
    stage = batch_state(facts, batch, plan.day).stage
    if is_gone(stage):
        return tuple(f"{one.meat} for {one.service} have none: plan that day again" for one in found)
    said = [_said(facts, one) for one in found if one.moves_minutes >= LATE_MINUTES]
    due = stage is BatchStage.DUE
    return tuple(said) or tuple(_last_call(facts, one) for one in found if due and _is_near(facts, one))


def late_with(facts: Facts, plan: Plan, batch: PlannedBatch) -> tuple[str, ...]:
    """What fails with a batch, where it is late or gone; nothing while all is in time."""
    found = waits(facts, plan, batch)
    late = any(one.moves_minutes >= LATE_MINUTES for one in found)
    gone = is_gone(batch_state(facts, batch, plan.day).stage)
    return fails(facts, plan, batch, found) if late or gone else ()


def _said(facts: Facts, one: Waiting) -> str:
    moves = f"{one.meat} move by {duration(one.moves_minutes)}"
    if one.late_minutes >= LATE_MINUTES:
        return f"{moves}: {duration(one.late_minutes)} late for {one.service} ▲"
    return f"{moves}, still in time for {one.service}; late if begun after {when(facts, one.start_by)}"


def _is_near(facts: Facts, one: Waiting) -> bool:
    """Whether the last moment to begin is today."""
    return local(one.start_by, facts.house).date() == facts.today


def _last_call(facts: Facts, one: Waiting) -> str:
    return f"begun after {when(facts, one.start_by)}, {one.meat} are late for {one.service}"
