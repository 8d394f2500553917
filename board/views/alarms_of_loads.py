"""Alarms about loads: likely late, held near their longest, or waiting for a batch that nobody has begun."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from board.house.model import AlarmLimits
from board.house.spans import minutes_between
from board.house.wording import duration
from board.ledger.state import BatchStage, LoadStage, LoadState
from board.planning.plan import Plan, PlannedBatch, PlannedLoad
from board.views import names
from board.views.alarm import Alarm, AlarmKind, Stood
from board.views.batch_times import is_gone
from board.views.batch_waits import LATE_MINUTES, fails, waits
from board.views.days import when
from board.views.facts import Facts, all_batches, all_loads, batch_state, load_state, pit_at
from board.views.hold_asks import is_unproved, last_read, what_to_do
from board.views.likely import counted_state, likely_times
from board.views.off_pits import is_over, off_pits
from board.views.progress import Progress, Revised
from board.views.reference import ref
from board.views.remedies import best_line
from board.views.remedying import Advised
from board.views.text import Tone, inert
from board.views.watching import holding_since

_MAY, _LATE, _VERY = 1, 2, 3
_ON = (LoadStage.ON, LoadStage.WRAPPED)
_DONE_WITH = (LoadStage.LOST, LoadStage.SERVED, LoadStage.HOLDING)
_OVERDUE = timedelta(minutes=5)  # a load goes on about when it is planned
_LATER = timedelta(hours=6)  # after a load is first needed it may still be served from
_BATCH_AHEAD = timedelta(days=1)


def late_alarms(
    facts: Facts, limits: AlarmLimits, revised: Revised | None, advised: Advised, stood: Stood
) -> Iterator[Alarm]:
    """The loads likely late for what they are for, or with hardly anything in hand and maybe late."""
    for plan, load in all_loads(facts):
        state = counted_state(facts, plan, load, revised)
        if not _is_ahead(facts, plan, load, state):
            continue
        likely = likely_times(facts, plan, load, revised)
        key = f"late/{ref(plan.day, load.id)}"
        level = _late_level(likely, limits, stood.get(key, 0))
        if level and likely.ready.p50 > facts.now:
            yield Alarm(
                key=key,
                level=level,
                kind=AlarmKind.LATE,
                says=_says_late(facts, plan, load, likely, level),
                todo=_help(facts, load, state, best_line(facts, load, advised.get(load.id))),
                tone=Tone.CARE if level == _MAY else Tone.LATE,
                since=state.last_core_at or state.pulled_at or state.on_at or load.load_at,
                load=ref(plan.day, load.id),
            )


def _is_ahead(facts: Facts, plan: Plan, load: PlannedLoad, state: LoadState) -> bool:
    """Whether a load has begun, or should have, and is still waited for."""
    if state.stage in _DONE_WITH or state.portions_left <= 0 or is_over(plan, load, facts.now):
        return False
    begun = state.on_at is not None or facts.now > load.load_at + _OVERDUE
    return begun and facts.now < load.needed_at + _LATER


def _late_level(likely: Progress, limits: AlarmLimits, stood: int) -> int:
    """How late a load is, in steps; one that stands must be better by what settles it before it goes down."""

    def past(level: int, by: float, limit: float) -> bool:
        return by >= (limit - limits.settle_minutes if stood >= level else limit)

    late = -likely.spare_minutes
    if past(_VERY, late, limits.very_late_minutes):
        return _VERY
    if past(_LATE, late, limits.late_minutes):
        return _LATE
    one_in_ten = late + minutes_between(likely.ready.p50, likely.ready.p90)
    if past(_MAY, one_in_ten, 0.0) and past(_MAY, late, -limits.spare_minutes):
        return _MAY
    return 0


def _says_late(facts: Facts, plan: Plan, load: PlannedLoad, likely: Progress, level: int) -> str:
    house = facts.house
    what = f"{names.pieces(house, load)}, {names.pit_name(house, pit_at(facts, load, plan.day))}"
    if level == _MAY:
        p90 = names.clock(house, likely.ready.p90)
        return f"{what}, may be late for {when(facts, load.needed_at)}, 1 time in 10 not before {p90}"
    late = duration(max(1.0, -likely.spare_minutes))
    return f"{what}, likely {late} late for {when(facts, load.needed_at)}"


def _help(facts: Facts, load: PlannedLoad, state: LoadState, best: str) -> str:
    if state.on_at is None:
        late = duration(minutes_between(load.load_at, facts.now))
        return f"it should have gone on {late} ago; load it, or plan the day again"
    if state.stage in _ON:
        return best or "remedies show what would help"
    return "it is off and resting; serve what else there is first"


def hold_alarms(facts: Facts, limits: AlarmLimits) -> Iterator[Alarm]:
    """The loads held nearly as long as is good for them, or longer, until it is said what became of them."""
    for plan, load in off_pits(facts):
        since, cut = holding_since(facts, plan, load), facts.house.cuts.get(load.cut)
        if since is None or cut is None:
            continue
        longest = since + timedelta(minutes=cut.hold_longest_minutes)
        left = minutes_between(facts.now, longest)
        if left > limits.hold_minutes or (left >= 0 and _is_going(facts, plan, load)):
            continue
        held, most = duration(minutes_between(since, facts.now)), duration(cut.hold_longest_minutes)
        says = f"{names.pieces(facts.house, load)} held {held}, good up to {most}"
        yield Alarm(
            key=f"hold/{ref(plan.day, load.id)}",
            level=1 if left >= 0 else 2,
            kind=AlarmKind.HOLD,
            says=f"{says}, {last_read(facts, plan, load)}" if left < 0 else says,
            todo=_hold_todo(facts, plan, load, is_past=left < 0),
            tone=Tone.LATE if left < 0 and is_unproved(facts, plan, load) else Tone.CARE,
            since=longest - timedelta(minutes=limits.hold_minutes),
            load=ref(plan.day, load.id),
        )


def _hold_todo(facts: Facts, plan: Plan, load: PlannedLoad, *, is_past: bool) -> str:
    """Before its longest it goes first while it is served; past it the rule says what is left to do."""
    if is_past or is_over(plan, load, facts.now):
        return what_to_do(facts, plan, load)
    return "serve that first, or set what is left to cool"


def _is_going(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    """Whether a load is being served and goes down as it should."""
    left = load_state(facts, load, plan.day).portions_left
    is_served = facts.now >= load.needed_at and 2 * left <= load.portions
    return is_served and not is_over(plan, load, facts.now)


def batch_alarms(facts: Facts, limits: AlarmLimits) -> Iterator[Alarm]:
    """The batches whose loads will be late for want of them, or that must be begun soon."""
    for plan, batch in all_batches(facts):
        stage = batch_state(facts, batch, plan.day).stage
        is_near = batch.make_by < facts.now + _BATCH_AHEAD
        if is_near and (stage is BatchStage.DUE or is_gone(stage)):
            yield from _batch(facts, limits, plan, batch, stage)


def _batch(
    facts: Facts, limits: AlarmLimits, plan: Plan, batch: PlannedBatch, stage: BatchStage
) -> Iterator[Alarm]:
    found = waits(facts, plan, batch)
    if not found:
        return
    gone = is_gone(stage)
    begin_by = min(one.start_by for one in found)
    is_late = gone or any(one.late_minutes >= LATE_MINUTES for one in found)
    soon = stage is BatchStage.DUE and begin_by - facts.now <= timedelta(minutes=limits.batch_minutes)
    if not is_late and not soon:
        return
    name = names.recipe_name(facts.house, batch.recipe)
    told = fails(facts, plan, batch, found) if is_late else ()
    says = f"{name}: {told[0]}" if told else _begin_says(facts, name, begin_by)
    yield Alarm(
        key=f"batch/{ref(plan.day, batch.id)}",
        level=2 if is_late else 1,
        kind=AlarmKind.BATCH,
        says=inert(says),
        todo="" if gone else "begin it now, or plan the day again",
        tone=Tone.LATE if is_late else Tone.CARE,
        since=_since(facts, begin_by, limits),
        load=found[0].key,
        do=f"batches:{ref(plan.day, batch.id)}",
    )


def _begin_says(facts: Facts, name: str, by: datetime) -> str:
    return f"{name} must be begun by {when(facts, by)}, or its loads are late"


def _since(facts: Facts, begin_by: datetime, limits: AlarmLimits) -> datetime:
    return min(facts.now, begin_by - timedelta(minutes=limits.batch_minutes))
