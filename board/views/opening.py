"""The Opening view: what happened, what to do next, where each load stands, what is short."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from board.house.spans import minutes_between
from board.house.units import format_mass
from board.house.wording import count, day_name, duration
from board.ledger.state import BatchStage, LoadStage, LoadState
from board.planning.plan import Occasion, Plan, PlannedLoad
from board.planning.remedies.remedy import Advice
from board.views import names
from board.views.alarm import Alarm
from board.views.alarm_answers import Folded, folded, loud
from board.views.alarms import alarms
from board.views.batch_times import times
from board.views.batch_waits import late_with
from board.views.cautions import cautions
from board.views.days import near_day, when
from board.views.do_next import OVERDUE_MINUTES, Next, nexts
from board.views.facts import (
    Facts,
    all_batches,
    all_loads,
    batch_state,
    load_state,
    occasions,
    promised,
)
from board.views.likely import likely_times
from board.views.presence import away
from board.views.progress import Progress, Revised, Risk, curve, warmth
from board.views.reference import ref
from board.views.remedies import best_line
from board.views.remedying import Advised
from board.views.spots import spot
from board.views.story import Happened, happened
from board.views.text import Tone, inert
from board.views.warnings import warnings

CURVE_COLUMNS = 8
ON_PIT = frozenset({LoadStage.ON, LoadStage.WRAPPED})
OFF_PIT = frozenset({LoadStage.PULLED, LoadStage.RESTING})


@dataclass(frozen=True, slots=True)
class Standing:
    """One load on the fire or off it to rest: how far it is and how it stands against its time."""

    key: str
    meat: str
    pit: str
    stage: str
    core: str
    curve: tuple[float, ...]
    ready: str
    span: str
    needed: str
    spare: str
    risk: Risk
    word: str
    remedy: str = ""


@dataclass(frozen=True, slots=True)
class BatchDue:
    """One batch to make, or made and not ready yet: for which day, and in `fails` what comes late with it."""

    key: str
    name: str
    amount: str
    says: str
    tone: Tone
    fails: tuple[str, ...] = ()
    short: str = ""
    day: str = ""


@dataclass(frozen=True, slots=True)
class Cover:
    """What the next service needs of an item, has in time, and has late; sold out, it wants no more."""

    item: str
    have: int
    need: int
    short: int
    late: int = 0
    sold_out: bool = False
    load: str = ""


@dataclass(frozen=True, slots=True)
class Opening:
    """The whole view, in plain values and sentences."""

    day: str
    clock: str
    countdown: str
    lit: str
    since: str
    handed: str
    happened: tuple[Happened, ...]
    next: tuple[Next, ...]
    standing: tuple[Standing, ...]
    batches: tuple[BatchDue, ...]
    service: str
    cover: tuple[Cover, ...]
    cautions: tuple[str, ...]
    warnings: tuple[str, ...] = ()
    alarms: tuple[Folded, ...] = ()


def opening(
    facts: Facts,
    revised: Revised | None = None,
    advised: Advised | None = None,
    who: str = "",
    found: Sequence[Alarm] | None = None,
) -> Opening:
    """The Opening view of one moment for who asks.

    `advised` is what helps the loads in trouble, `found` the alarms where they are known already.
    """
    found = alarms(facts, revised, advised) if found is None else found
    house, now = facts.house, facts.now
    coming = next_occasion(facts)
    handover, gone = facts.handover, away(facts, who)
    signer = names.person_name(house, handover.who) if handover else ""
    return Opening(
        day=day_name(facts.today),
        clock=names.clock(house, now),
        countdown=countdown(facts, coming[1]) if coming else "no service ahead",
        lit=lit(facts),
        since=gone.says,
        handed=f"{signer} handed over {names.clock(house, handover.at)}" if handover else "",
        happened=tuple(happened(replace(facts, since=gone.entries))),
        next=tuple(nexts(facts, revised, who)),
        standing=tuple(_standings(facts, revised, advised or {})),
        batches=tuple(_batches(facts)),
        service=_service_title(facts, coming),
        cover=tuple(cover(facts, *coming, revised)) if coming else (),
        cautions=cautions(facts),
        warnings=warnings(facts),
        alarms=tuple(folded(loud(facts, found))),
    )


def next_occasion(facts: Facts) -> tuple[Plan, Occasion] | None:
    """The service that runs now or comes next, with its plan; an order only where there is no service."""
    ahead = [pair for pair in occasions(facts) if pair[1].until > facts.now]
    return next((pair for pair in ahead if not pair[1].is_order), next(iter(ahead), None))


def countdown(facts: Facts, occasion: Occasion) -> str:
    """How long until a serving time: `lunch in 5 h 18`."""
    name = inert(occasion.name)
    minutes = minutes_between(facts.now, occasion.at)
    if minutes <= 0:
        return f"{name} until {names.clock(facts.house, occasion.until)}"
    return f"{name} in {duration(minutes)}"


def lit(facts: Facts) -> str:
    """How many pits are lit."""
    total = len(facts.house.pits)
    burning = sum(1 for id, pit in facts.pits.items() if id in facts.house.pits and pit.lit_at is not None)
    return f"{burning} of {count(total, 'pit')} lit"


def _service_title(facts: Facts, coming: tuple[Plan, Occasion] | None) -> str:
    if coming is None:
        return "Next service"
    plan, occasion = coming
    name = inert(occasion.name)
    return f"For {name}" if plan.day == facts.today else f"For {name} {near_day(facts, plan.day)}"


def _standings(facts: Facts, revised: Revised | None, advised: Advised) -> list[Standing]:
    found = []
    for plan, load in all_loads(facts):
        state = load_state(facts, load, plan.day)
        if state.stage not in ON_PIT | OFF_PIT:
            continue
        likely = likely_times(facts, plan, load, revised)
        if state.stage in ON_PIT or likely.ready.p50 > facts.now:
            row = standing(facts, plan, load, likely, advised.get(load.id))
            found.append((-likely.risk, load.needed_at, load.load_at, row))
    return [row[-1] for row in sorted(found, key=lambda row: row[:-1])]


def standing(
    facts: Facts, plan: Plan, load: PlannedLoad, likely: Progress, advice: Advice | None = None
) -> Standing:
    """One load against the time it is needed, with what would help it where that is known."""
    house = facts.house
    state = load_state(facts, load, plan.day)
    now_ready = likely.ready.p50 <= facts.now
    p10, p90 = names.clock(house, likely.ready.p10), names.clock(house, likely.ready.p90)
    core = names.degrees(house, likely.core_c) if likely.core_c is not None else "–"
    return Standing(
        key=ref(plan.day, load.id),
        meat=names.pieces(house, load),
        pit=spot(facts, load, plan.day)
        if state.stage in ON_PIT
        else names.place_name(house, load.bench or ""),
        stage=state.stage.value,
        core=core,
        curve=_curve(facts, plan.day, load, state, likely),
        ready="now" if now_ready else names.clock(house, likely.ready.p50),
        span="" if p10 == p90 or now_ready else f"{p10}–{p90}",
        needed=names.clock(house, load.needed_at),
        spare=duration(abs(likely.spare_minutes)),
        risk=likely.risk,
        word=_word(facts, load, state, likely),
        remedy="" if likely.risk is Risk.IN_TIME else best_line(facts, load, advice),
    )


def _curve(
    facts: Facts, day: date, load: PlannedLoad, state: LoadState, likely: Progress
) -> tuple[float, ...]:
    cut = facts.house.cuts.get(load.cut)
    if cut is None or state.on_at is None:
        return ()
    readings = facts.readings.get((day, load.id), ())
    points = [(r.at, r.temperature_c) for r in readings if r.key not in likely.left_out]
    end = state.pulled_at or facts.now
    cores = curve(points, state.on_at, end, cut.start_c, CURVE_COLUMNS)
    return tuple(warmth(core, cut.start_c, cut.pull_core_c) for core in cores)


def _word(facts: Facts, load: PlannedLoad, state: LoadState, likely: Progress) -> str:
    """How the load stands against its time, and why that is only a guess."""
    return "; ".join(filter(None, (_risk_word(facts, load, state, likely), likely.guess)))


def _risk_word(facts: Facts, load: PlannedLoad, state: LoadState, likely: Progress) -> str:
    house = facts.house
    if likely.risk is Risk.IN_TIME:
        return ""
    p50, p90 = names.clock(house, likely.ready.p50), names.clock(house, likely.ready.p90)
    why = _why_late(load, state)
    if likely.risk is Risk.LATE:
        late = duration(-likely.spare_minutes)
        return f"likely ready {p50}, {late} too late for {names.clock(house, load.needed_at)}{why}"
    return f"may be late: 1 time in 10 not before {p90}{why}"


def _why_late(load: PlannedLoad, state: LoadState) -> str:
    if state.on_at is None:
        return ""
    behind = minutes_between(load.load_at, state.on_at)
    return f"; on {duration(behind)} after plan" if behind >= OVERDUE_MINUTES else ""


def _batches(facts: Facts) -> list[BatchDue]:
    found = []
    for plan, batch in all_batches(facts):
        state = batch_state(facts, batch, plan.day)
        ready_from = times(facts, plan, batch).ready_from
        waiting = state.stage is BatchStage.MADE and ready_from > facts.now
        if state.stage is not BatchStage.DUE and not waiting:
            continue
        says, tone = _batch_word(facts, batch.make_by, ready_from, state.stage)
        use = near_day(facts, plan.day)
        line = BatchDue(
            key=ref(plan.day, batch.id),
            name=names.recipe_name(facts.house, batch.recipe),
            amount=format_mass(batch.amount_kg, facts.house.display),
            says=f"{says} for {use}" + (": overdue" if tone is Tone.LATE else ""),
            tone=tone,
            fails=late_with(facts, plan, batch),
            short="overdue ▲" if tone is Tone.LATE else says,
            day=use,
        )
        found.append((ready_from if waiting else batch.make_by, line.key, line))
    return [line for *_, line in sorted(found, key=lambda row: row[:2])]


def _batch_word(facts: Facts, make_by: datetime, ready_from: datetime, stage: BatchStage) -> tuple[str, Tone]:
    if stage is BatchStage.DUE:
        return f"by {when(facts, make_by)}", Tone.LATE if make_by < facts.now else Tone.PLAIN
    return f"made, ready {when(facts, ready_from)}", Tone.QUIET


def cover(facts: Facts, plan: Plan, occasion: Occasion, revised: Revised | None = None) -> list[Cover]:
    """What a serving time needs of each item, and what the loads for it will have in time or bring late."""
    rows = []
    for item, need in promised(facts, plan, occasion).items():
        loads = [load for load in plan.loads if load.item == item and occasion.id in load.services]
        late = [load for load in loads if _comes_late(facts, plan, load, occasion, revised)]
        behind = sum(_portions(facts, plan, load) for load in late)
        have = sum(_portions(facts, plan, load) for load in loads) - behind
        left = max(0, need - facts.sold.get((plan.day, occasion.id, item), 0))
        coming_late = min(behind, max(0, left - have))
        short = max(0, left - have - coming_late)
        name = names.item_name(facts.house, item)
        first = min([*late, *loads], key=lambda ld: (ld not in late, ld.needed_at, ld.id), default=None)
        key = ref(plan.day, first.id) if first else ""
        if (plan.day, occasion.id, item) in facts.sold_out:
            rows.append(Cover(name, have, left, 0, sold_out=True, load=key))
        else:
            rows.append(Cover(name, have, left, short, coming_late, load=key))
    return sorted(rows, key=lambda row: (-row.short, -row.late))


def _comes_late(
    facts: Facts, plan: Plan, load: PlannedLoad, occasion: Occasion, revised: Revised | None
) -> bool:
    """Whether a load is still to come and likely late for a serving time, its finishing work counted."""
    likely = likely_times(facts, plan, load, revised)
    later = minutes_between(load.needed_at, occasion.at)  # another service may need it first
    return likely.ready.p50 > facts.now and likely.spare_minutes + max(0.0, later) < 0


def _portions(facts: Facts, plan: Plan, load: PlannedLoad) -> int:
    state = load_state(facts, load, plan.day)
    return 0 if state.stage is LoadStage.LOST else state.portions_left
