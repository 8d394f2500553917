"""The Service view: for each item what is ready, what rests, what is coming, sold, left and for how long."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from board.house.spans import minutes_between
from board.planning.plan import Occasion, Plan
from board.views import names
from board.views.days import near_day, when
from board.views.do_next import OVERDUE_MINUTES
from board.views.facts import Facts, promised
from board.views.hold_age import Age, Old, age_of
from board.views.leftovers import Leftover, leftovers
from board.views.opening import countdown, next_occasion
from board.views.orders import OrderLine, orders
from board.views.progress import Revised, Risk
from board.views.reference import ref
from board.views.remedies import best_line
from board.views.remedying import Advised
from board.views.selling import lasting
from board.views.shown_cooked import before_serving
from board.views.steps import due_at, next_of, say
from board.views.stock import Part, Stock, Where, stock_of
from board.views.text import inert


@dataclass(frozen=True, slots=True)
class Wave:
    """Portions of an item still to come, and when they are likely ready."""

    portions: int
    ready: str
    risk: Risk
    guess: str | None = None


@dataclass(frozen=True, slots=True)
class NextStep:
    """The next step of an item's loads: the step's key, when it falls due, and how it is said."""

    key: str
    at: datetime
    says: str
    overdue: bool


@dataclass(frozen=True, slots=True)
class ItemLine:
    """One item at the serving time now or next.

    `unfinished` is what rested portions wait for, in words; `aside` how many ready ones are kept for orders;
    `leans` what the pace is taken from that `lasts` was reckoned with.
    """

    item: str
    name: str
    holding: int
    age: Age | None
    resting: int
    unfinished: str
    aside: int
    coming: tuple[Wave, ...]
    sold: int
    promised: int
    left: int
    short: int
    lasts: str
    runs_short: bool
    leans: str
    per_hour: float
    sold_out: bool
    load: str
    next: NextStep | None
    troubled: str = ""
    remedy: str = ""
    caution: str = ""

    @property
    def step(self) -> str:
        """The key of the next step of its loads; empty where all is done."""
        return self.next.key if self.next else ""

    @property
    def oldest(self) -> str:
        """The age of the oldest ready portions beside their limit."""
        return self.age.says if self.age else ""

    @property
    def held_too_long(self) -> bool:
        """Whether they are past it."""
        return self.age is not None and self.age.old is Old.OVER


@dataclass(frozen=True, slots=True)
class Service:
    """The whole view, in plain values and sentences; `leans` where all items' pace leans on the same.

    `left` is what is left of what is over, until it is said what became of it.
    """

    service: str
    name: str
    countdown: str
    day: str
    lines: tuple[ItemLine, ...]
    orders: tuple[OrderLine, ...] = ()
    leans: str = ""
    left: tuple[Leftover, ...] = ()


def is_serving(facts: Facts) -> bool:
    """Whether a service runs now."""
    coming = next_occasion(facts)
    return coming is not None and coming[1].at <= facts.now


def service(facts: Facts, revised: Revised | None = None, advised: Advised | None = None) -> Service:
    """The Service view of one moment; `advised` is what helps the loads in trouble."""
    coming = next_occasion(facts)
    if coming is None:
        return Service("", "No service ahead", "", "", (), left=leftovers(facts))
    plan, occasion = coming
    lines = tuple(
        _helped(facts, plan, occasion, _line(facts, plan, occasion, promise, revised), advised or {})
        for promise in promised(facts, plan, occasion).items()
    )
    leans = {line.leans for line in lines if line.leans}
    return Service(
        occasion.id,
        inert(occasion.name),
        countdown(facts, occasion),
        "" if plan.day == facts.today else near_day(facts, plan.day),
        lines,
        tuple(orders(facts, plan, revised)),
        leans.pop() if len(leans) == 1 else "",
        leftovers(facts),
    )


def _line(
    facts: Facts, plan: Plan, occasion: Occasion, promise: tuple[str, int], revised: Revised | None
) -> ItemLine:
    item, need = promise
    stock = stock_of(facts, plan, occasion, item, revised)
    own = tuple(part for part in stock.parts if part.own)
    sold = facts.sold.get((plan.day, occasion.id, item), 0)
    lasts = lasting(facts, plan, occasion, stock)
    out = (plan.day, occasion.id, item) in facts.sold_out
    left = max(0, need - sold)
    step = next_step(facts, plan, occasion, item, revised)
    cautions = (before_serving(facts, plan, part.load) for part in stock.parts)
    return ItemLine(
        item=item,
        name=names.item_name(facts.house, item),
        holding=stock.portions(Where.READY),
        age=_oldest(facts, plan, stock),
        resting=stock.portions(Where.RESTING),
        unfinished=_unfinished(stock),
        aside=min(stock.aside, sum(part.portions for part in stock.free if part.where is Where.READY)),
        coming=tuple(_waves(facts, own)),
        sold=sold,
        promised=need,
        left=left,
        short=max(0, left - sum(stock.portions(where) for where in Where)),
        lasts="sold out" if out else lasts.says,
        runs_short=lasts.soon and not out,
        leans="" if out else lasts.leans,
        per_hour=lasts.per_hour,
        sold_out=out,
        load=_load_of(plan, occasion, item, step),
        next=step[1] if step else None,
        caution=next(filter(None, cautions), ""),
    )


def _helped(facts: Facts, plan: Plan, occasion: Occasion, line: ItemLine, advised: Advised) -> ItemLine:
    """The line with the best remedy of the first of the item's loads that is in trouble."""
    for load in sorted(plan.loads, key=lambda ld: (ld.needed_at, ld.id)):
        if load.item != line.item or occasion.id not in load.services:
            continue
        says = best_line(facts, load, advised.get(load.id))
        if says:
            return replace(line, troubled=ref(plan.day, load.id), remedy=says)
    return line


def _waves(facts: Facts, own: tuple[Part, ...]) -> Iterator[Wave]:
    """The loads of this service that are still on their pit or before it, by the time they are ready."""
    coming = [part for part in own if part.where is Where.COMING]
    for part in sorted(coming, key=lambda part: (part.likely.ready.p50, part.load.id)):
        likely = part.likely
        yield Wave(part.portions, names.clock(facts.house, likely.ready.p50), likely.risk, likely.guess)


def _oldest(facts: Facts, plan: Plan, stock: Stock) -> Age | None:
    """The age of those ready portions that are furthest beyond, or nearest, the end of theirs."""
    held = (Where.READY, Where.FINISHING)
    ages = [age_of(facts, plan, part.load, part.likely) for part in stock.free if part.where in held]
    return max(ages, key=lambda age: (age.old, age.minutes), default=None)


def _unfinished(stock: Stock) -> str:
    """What rested portions wait for: `83 to pull apart`."""
    parts = [part for part in stock.free if part.where is Where.FINISHING and part.finish is not None]
    whats = {part.finish.what: 0 for part in parts if part.finish}
    for part in parts:
        if part.finish:
            whats[part.finish.what] += part.portions
    return names.listed([f"{number} to {inert(what)}" for what, number in whats.items()])


def next_step(
    facts: Facts, plan: Plan, occasion: Occasion, item: str, revised: Revised | None
) -> tuple[str, NextStep] | None:
    """The first step still to do for an item's loads of a service, and the load it is of."""
    loads = [ld for ld in plan.loads if ld.item == item and occasion.id in ld.services]
    waiting = [step for ld in loads if (step := next_of(facts, plan, ld.id)) is not None]
    if not waiting:
        return None
    at, _, step = min((due_at(facts, plan, s, revised), s.id, s) for s in waiting)
    overdue = minutes_between(at, facts.now) > OVERDUE_MINUTES
    clock = when(facts, at)
    says = say(facts, plan, step)
    return ref(plan.day, step.load or ""), NextStep(ref(plan.day, step.id), at, f"{clock} {says}", overdue)


def _load_of(plan: Plan, occasion: Occasion, item: str, step: tuple[str, NextStep] | None) -> str:
    """The load an item points at: that of its next step; where all is done, the one that came ready last."""
    if step is not None:
        return step[0]
    loads = [ld for ld in plan.loads if ld.item == item and occasion.id in ld.services]
    last = max(loads, key=lambda ld: (ld.ready_at.p50, ld.id), default=None)
    return ref(plan.day, last.id) if last else ""
