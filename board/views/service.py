"""The Service view: for each item what is ready, what rests, what is coming, sold, left and for how long."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from board.house.spans import minutes_between
from board.house.wording import duration
from board.ledger.state import LoadStage, LoadState
from board.planning.plan import Occasion, Plan, PlannedLoad
from board.views import names
from board.views.days import near_day, when
from board.views.facts import Facts, load_state, promised
from board.views.likely import likely_times
from board.views.opening import countdown, next_occasion
from board.views.progress import Progress, Revised, Risk
from board.views.reference import ref
from board.views.remedies import best_line
from board.views.remedying import Advised
from board.views.shown_cooked import before_serving
from board.views.steps import due_at, next_of, say
from board.views.text import inert

_WARN_MINUTES = 30
_LEAST_PACE_MINUTES = 15


@dataclass(frozen=True, slots=True)
class Wave:
    """Portions of an item still to come, and when they are likely ready."""

    portions: int
    ready: str
    risk: Risk
    guess: str | None = None


@dataclass(frozen=True, slots=True)
class ItemLine:
    """One item at the serving time now or next."""

    item: str
    name: str
    holding: int
    oldest: str
    held_too_long: bool
    resting: int
    coming: tuple[Wave, ...]
    sold: int
    promised: int
    left: int
    lasts: str
    runs_short: bool
    sold_out: bool
    load: str
    step: str
    next_step: str
    troubled: str = ""
    remedy: str = ""
    caution: str = ""


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One order of the day: when it is collected, for whom, what, and whether its loads are ready."""

    key: str
    clock: str
    name: str
    says: str
    state: str
    risk: Risk
    past: bool


@dataclass(frozen=True, slots=True)
class Service:
    """The whole view, in plain values and sentences."""

    service: str
    name: str
    countdown: str
    day: str
    lines: tuple[ItemLine, ...]
    orders: tuple[OrderLine, ...] = ()


def service(facts: Facts, revised: Revised | None = None, advised: Advised | None = None) -> Service:
    """The Service view of one moment; `advised` is what helps the loads in trouble."""
    coming = next_occasion(facts)
    if coming is None:
        return Service("", "No service ahead", "", "", ())
    plan, occasion = coming
    lines = [
        _line(facts, plan, occasion, promise, revised) for promise in promised(facts, plan, occasion).items()
    ]
    return Service(
        occasion.id,
        inert(occasion.name),
        countdown(facts, occasion),
        "" if plan.day == facts.today else near_day(facts, plan.day),
        tuple(_helped(facts, plan, occasion, line, advised or {}) for line in lines),
        tuple(_orders(facts, plan, revised)),
    )


def _orders(facts: Facts, plan: Plan, revised: Revised | None) -> list[OrderLine]:
    """The day's orders by the time they are collected."""
    found = sorted((o for o in plan.occasions if o.is_order), key=lambda o: (o.at, o.id))
    return [_order(facts, plan, occasion, revised) for occasion in found]


def _order(facts: Facts, plan: Plan, occasion: Occasion, revised: Revised | None) -> OrderLine:
    loads = [ld for ld in plan.loads if occasion.id in ld.services]
    likely = [likely_times(facts, plan, ld, revised) for ld in loads]
    ready = max((one.ready.p50 for one in likely), default=None)
    late = max((one.ready.p90 for one in likely), default=None)
    risk = Risk.IN_TIME
    if ready is None or ready > occasion.at:
        risk = Risk.LATE
    elif late is not None and late > occasion.at:
        risk = Risk.MAYBE_LATE
    wanted = promised(facts, plan, occasion)
    says = [names.portions(facts.house, item, number) for item, number in wanted.items()]
    if ready is None:
        state = "no load is planned for it"
    elif ready <= facts.now:
        state = "ready"
    else:
        state = f"ready {names.clock(facts.house, ready)}"
    past = occasion.until < facts.now
    clock = names.clock(facts.house, occasion.at)
    return OrderLine(occasion.id, clock, inert(occasion.name), names.listed(says), state, risk, past)


def _line(
    facts: Facts, plan: Plan, occasion: Occasion, promise: tuple[str, int], revised: Revised | None
) -> ItemLine:
    item, need = promise
    loads = [(ld, load_state(facts, ld, plan.day)) for ld in plan.loads if ld.item == item]
    likely = {ld.id: likely_times(facts, plan, ld, revised) for ld, state in loads}
    own = [(ld, st) for ld, st in loads if occasion.id in ld.services]
    held = [(ld, st) for ld, st in loads if _is_ready(st, likely[ld.id], facts.now)]
    resting = [st for ld, st in loads if _is_resting(st) and not _is_ready(st, likely[ld.id], facts.now)]
    sold = facts.sold.get((plan.day, occasion.id, item), 0)
    holding = sum(st.portions_left for _, st in held)
    out = (plan.day, occasion.id, item) in facts.sold_out
    lasts, short = _lasts(facts, occasion, holding, sold, need)
    oldest, too_long = _oldest(facts, held, likely)
    load, step, says = _next_step(facts, plan, own, revised)
    cautions = (before_serving(facts, plan, ld) for ld, st in loads if st.portions_left)
    return ItemLine(
        item=item,
        name=names.item_name(facts.house, item),
        holding=holding,
        oldest=oldest,
        held_too_long=too_long,
        resting=sum(st.portions_left for st in resting),
        coming=tuple(_waves(facts, own, likely)),
        sold=sold,
        promised=need,
        left=max(0, need - sold),
        lasts="sold out" if out else lasts,
        runs_short=short and not out,
        sold_out=out,
        load=load,
        step=step,
        next_step=says,
        caution=next(filter(None, cautions), ""),
    )


def _helped(facts: Facts, plan: Plan, occasion: Occasion, line: ItemLine, advised: Advised) -> ItemLine:
    """The line with the best remedy of the first of the item's loads that is in trouble."""
    for load in sorted(plan.loads, key=lambda ld: (ld.needed_at, ld.id)):
        says = best_line(facts, load, advised.get(load.id))
        if says and load.item == line.item and occasion.id in load.services:
            return replace(line, troubled=ref(plan.day, load.id), remedy=says)
    return line


def _is_resting(state: LoadState) -> bool:
    return state.stage in (LoadStage.PULLED, LoadStage.RESTING)


def _is_ready(state: LoadState, likely: Progress, now: datetime) -> bool:
    if state.stage is LoadStage.HOLDING:
        return True
    return _is_resting(state) and likely.ready.p50 <= now


def _waves(
    facts: Facts, loads: Iterable[tuple[PlannedLoad, LoadState]], likely: dict[str, Progress]
) -> list[Wave]:
    before = (LoadStage.PLANNED, LoadStage.PREPPED, LoadStage.ON, LoadStage.WRAPPED)
    waiting = sorted(
        ((likely[ld.id].ready.p50, ld) for ld, st in loads if st.stage in before),
        key=lambda wave: (wave[0], wave[1].id),
    )
    return [
        Wave(ld.portions, names.clock(facts.house, at), likely[ld.id].risk, likely[ld.id].guess)
        for at, ld in waiting
    ]


def _oldest(
    facts: Facts, held: list[tuple[PlannedLoad, LoadState]], likely: dict[str, Progress]
) -> tuple[str, bool]:
    """How long the oldest portions have been held, and whether that is past the cut's longest."""
    ages = [(minutes_between(likely[ld.id].ready.p50, facts.now), ld) for ld, st in held if st.portions_left]
    if not ages:
        return "", False
    minutes, load = max(ages, key=lambda age: age[0])
    cut = facts.house.cuts.get(load.cut)
    return duration(max(0.0, minutes)), cut is not None and minutes > cut.hold_longest_minutes


def _lasts(facts: Facts, occasion: Occasion, holding: int, sold: int, need: int) -> tuple[str, bool]:
    """Until when what is ready lasts at today's pace, and whether that is too soon.

    Before the first quarter of an hour of serving the pace is the promise spread over the service.
    """
    served = minutes_between(occasion.at, facts.now)
    whole = max(1.0, minutes_between(occasion.at, occasion.until))
    pace = sold / served if served >= _LEAST_PACE_MINUTES and sold else need / whole
    if served < 0 or pace <= 0 or not holding:
        return "", False
    minutes = holding / pace
    until = facts.now + timedelta(minutes=minutes)
    if until >= occasion.until:
        return "to the end", False
    return f"until {names.clock(facts.house, until)}", minutes < _WARN_MINUTES


def _next_step(
    facts: Facts, plan: Plan, loads: list[tuple[PlannedLoad, LoadState]], revised: Revised | None
) -> tuple[str, str, str]:
    """The first step still to do for an item's loads: the load's key, the step's key, and its words.

    Where all is done the load that came ready last is still the item's, with no step.
    """
    waiting = [step for ld, _ in loads if (step := next_of(facts, plan, ld.id)) is not None]
    if not waiting:
        last = max((ld for ld, _ in loads), key=lambda ld: (ld.ready_at.p50, ld.id), default=None)
        return ref(plan.day, last.id) if last else "", "", ""
    at, _, step = min((due_at(facts, plan, s, revised), s.id, s) for s in waiting)
    says = f"{when(facts, at)} {say(facts, plan, step)}"
    return ref(plan.day, step.load or ""), ref(plan.day, step.id), says
