"""The Batches view: what is to be made, for what, by when, how it stands, and what fails with it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

from board.house.units import format_mass
from board.ledger.state import BatchStage, BatchState
from board.planning.plan import Plan, PlannedBatch
from board.views import names
from board.views.batch_card import Card, card
from board.views.batch_times import BatchTimes, is_gone, make_minutes, make_step, planned_end, times
from board.views.batch_waits import late_with
from board.views.days import near_day, when, when_short
from board.views.facts import Facts, all_batches, batch_state
from board.views.reference import ref
from board.views.taking import is_in_the_meat
from board.views.text import Tone, inert


class Shown(StrEnum):
    """Which batches the list shows."""

    WANTED = "all that matter"
    DUE = "to make"
    MADE = "made or ready"
    GONE = "used or discarded"


_SHOWS = {
    Shown.DUE: (BatchStage.DUE,),
    Shown.MADE: (BatchStage.MADE, BatchStage.READY),
    Shown.GONE: (BatchStage.USED, BatchStage.DISCARDED),
}


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One batch in a line; `fails` is what comes late or goes without because of it."""

    key: str
    name: str
    kind: str
    amount: str
    day: str
    make_by: str
    ready_from: str
    use_by: str
    state: str
    tone: Tone
    fails: tuple[str, ...] = ()
    make_by_short: str = ""


@dataclass(frozen=True, slots=True)
class Batches:
    """The whole view, in plain values and sentences."""

    lines: tuple[BatchLine, ...]
    card: Card | None
    shown: Shown = Shown.WANTED
    counts: tuple[tuple[str, int], ...] = ()
    cards: tuple[Card, ...] = ()


def printed(facts: Facts) -> Batches:
    """The view as it hangs on the wall: with the card of every batch still to be made, not of one chosen."""
    view = batches(facts)
    due = {
        ref(plan.day, batch.id)
        for plan, batch in all_batches(facts)
        if batch_state(facts, batch, plan.day).stage is BatchStage.DUE
    }
    cards = (card(facts, line.key) for line in view.lines if line.key in due)
    return replace(view, card=None, cards=tuple(one for one in cards if one is not None))


def batches(facts: Facts, selected: str = "", shown: Shown = Shown.WANTED) -> Batches:
    """The Batches view of one moment, with the card of the chosen batch or else of the first."""
    every = [(plan, batch, batch_state(facts, batch, plan.day)) for plan, batch in all_batches(facts)]
    every += [(kept.plan, kept.batch, batch_state(facts, kept.batch, kept.plan.day)) for kept in facts.shelf]
    rows = [row for row in every if _is_shown(facts, *row, shown)]
    rows.sort(key=lambda row: (_rank(facts, *row), row[1].make_by, row[1].id))
    lines = tuple(_line(facts, plan, batch, state) for plan, batch, state in rows)
    keys = [line.key for line in lines]
    key = selected if selected in keys else next(iter(keys), "")
    return Batches(lines, card(facts, key) if key else None, shown, _counts(facts, every))


def _rank(facts: Facts, plan: Plan, batch: PlannedBatch, state: BatchState) -> int:
    """What is late comes first, then what is to be made, what is there, and what has been used."""
    if _state(facts, plan, batch, state, times(facts, plan, batch))[1] is Tone.LATE:
        return 0
    if state.stage is BatchStage.DUE:
        return 1
    return 3 if is_gone(state.stage) or is_in_the_meat(facts, plan, batch) else 2


def _counts(
    facts: Facts, every: Sequence[tuple[Plan, PlannedBatch, BatchState]]
) -> tuple[tuple[str, int], ...]:
    """How many batches of the near days stand at each of the five stages, ready by their times."""
    stages = [_true_stage(facts, *row) for row in every]
    return tuple((stage.value, n) for stage in BatchStage if (n := stages.count(stage)))


def _true_stage(facts: Facts, plan: Plan, batch: PlannedBatch, state: BatchState) -> BatchStage:
    if state.stage is BatchStage.MADE and times(facts, plan, batch).is_ready:
        return BatchStage.READY
    return state.stage


def _is_shown(facts: Facts, plan: Plan, batch: PlannedBatch, state: BatchState, shown: Shown) -> bool:
    """Batches still wanted; those used or thrown away stay for the day they were."""
    if shown is not Shown.WANTED:
        return state.stage in _SHOWS[shown]
    return not is_gone(state.stage) or times(facts, plan, batch).use_by >= facts.now


def _line(facts: Facts, plan: Plan, batch: PlannedBatch, state: BatchState) -> BatchLine:
    known = times(facts, plan, batch)
    says, tone = _state(facts, plan, batch, state, known)
    moved = known if state.made_at is not None else None
    return BatchLine(
        key=ref(plan.day, batch.id),
        name=names.recipe_name(facts.house, batch.recipe),
        kind=batch.kind,
        amount=format_mass(batch.amount_kg, facts.house.display),
        day=near_day(facts, plan.day),
        make_by=when(facts, batch.make_by),
        ready_from=when(facts, moved.ready_from if moved else _ready_at_the_latest(plan, batch)),
        use_by=when(facts, moved.use_by if moved else batch.use_by),
        state=says,
        tone=tone,
        fails=late_with(facts, plan, batch),
        make_by_short=when_short(facts, batch.make_by),
    )


def _ready_at_the_latest(plan: Plan, batch: PlannedBatch) -> datetime:
    """When a batch is ready that is made as late as it may be."""
    return batch.make_by + max(timedelta(0), batch.ready_from - planned_end(plan, batch))


def _state(
    facts: Facts, plan: Plan, batch: PlannedBatch, state: BatchState, known: BatchTimes
) -> tuple[str, Tone]:
    if state.stage is BatchStage.DUE:
        return _due(facts, plan, batch)
    made = f"made {when(facts, state.made_at)}" if state.made_at else "made"
    lot = f", lot {inert(state.lot)}" if state.lot else ""
    if is_gone(state.stage):
        why = f": {inert(state.discarded_why)}" if state.discarded_why else ""
        return f"{state.stage.value}{why}{lot}", Tone.QUIET
    says, tone = _there(facts, plan, batch, known)
    return f"{made}, {says}{lot}", tone


def _there(facts: Facts, plan: Plan, batch: PlannedBatch, known: BatchTimes) -> tuple[str, Tone]:
    """How a batch stands that is made and not gone."""
    left = next((one for one in facts.shelf if one.batch is batch), None)
    if left is not None:
        return f"{format_mass(left.left_kg, facts.house.display)} left", Tone.PLAIN
    if is_in_the_meat(facts, plan, batch):
        return "all in the meat", Tone.QUIET
    if known.use_by < facts.now:
        return "past its use-by ▲", Tone.LATE
    if known.known.startswith("not cold"):
        return known.known, Tone.CARE
    ready = "ready" if known.is_ready else f"ready {when(facts, known.ready_from)}"
    return ready, Tone.GOOD if known.is_ready else Tone.CARE


def _due(facts: Facts, plan: Plan, batch: PlannedBatch) -> tuple[str, Tone]:
    """A batch to make: overdue, too late to be made in time, or begun on the scale."""
    if batch.make_by < facts.now:
        return f"overdue ▲{_work(facts, plan, batch)}", Tone.LATE
    if facts.now + timedelta(minutes=make_minutes(facts, plan, batch)) > batch.make_by:
        return f"start now, late ▲{_work(facts, plan, batch)}", Tone.LATE
    weighed = len(facts.weighed.get((plan.day, batch.id), ()))
    begun = f", {weighed} weighed" if weighed else ""
    return f"to make{begun}{_work(facts, plan, batch)}", Tone.HEAT


def _work(facts: Facts, plan: Plan, batch: PlannedBatch) -> str:
    """How long making a batch takes, and who is to do it."""
    step = make_step(plan, batch)
    who = f", {names.person_name(facts.house, step.who)}" if step and step.who else ""
    return f", {make_minutes(facts, plan, batch):.0f} min{who}"
