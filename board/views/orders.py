"""The day's orders: when each is collected, by whom, what it is, and whether it is ready or gone."""

from dataclasses import dataclass
from datetime import datetime

from board.planning.plan import Occasion, Plan
from board.views import names
from board.views.facts import Facts, promised
from board.views.likely import likely_times
from board.views.progress import Revised, Risk
from board.views.text import inert


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One order of the day: when it is collected, for whom, what, and whether it is ready, late or gone."""

    key: str
    clock: str
    name: str
    says: str
    state: str
    risk: Risk
    gone: bool
    overdue: bool = False


def orders(facts: Facts, plan: Plan, revised: Revised | None = None) -> list[OrderLine]:
    """The day's orders by the time they are collected, those that are gone last."""
    found = sorted((o for o in plan.occasions if o.is_order), key=lambda o: (o.at, o.id))
    lines = [_order(facts, plan, occasion, revised) for occasion in found]
    return sorted(lines, key=lambda line: line.gone)


def to_collect(facts: Facts, plan: Plan, order: Occasion) -> dict[str, int]:
    """What of an order was not handed over yet, in portions by item."""
    left = {
        item: number - facts.sold.get((plan.day, order.id, item), 0)
        for item, number in promised(facts, plan, order).items()
    }
    return {item: number for item, number in left.items() if number > 0}


def find_order(plan: Plan, id: str) -> Occasion | None:
    """An order of a day by its id."""
    return next((one for one in plan.occasions if one.id == id and one.is_order), None)


def _order(facts: Facts, plan: Plan, occasion: Occasion, revised: Revised | None) -> OrderLine:
    loads = [ld for ld in plan.loads if occasion.id in ld.services]
    likely = [likely_times(facts, plan, ld, revised) for ld in loads]
    ready = max((one.ready.p50 for one in likely), default=None)
    late = max((one.ready.p90 for one in likely), default=None)
    left = to_collect(facts, plan, occasion)
    risk = _risk(occasion.at, ready, late) if left else Risk.IN_TIME
    wanted = left or promised(facts, plan, occasion)
    says = [names.portions(facts.house, item, number) for item, number in wanted.items()]
    state, overdue = _state(facts, occasion, ready, bool(left))
    clock = names.clock(facts.house, occasion.at)
    return OrderLine(
        occasion.id, clock, inert(occasion.name), names.listed(says), state, risk, not left, overdue
    )


def _risk(at: datetime, ready: datetime | None, late: datetime | None) -> Risk:
    if ready is None or ready > at:
        return Risk.LATE
    return Risk.MAYBE_LATE if late is not None and late > at else Risk.IN_TIME


def _state(facts: Facts, occasion: Occasion, ready: datetime | None, waits: bool) -> tuple[str, bool]:
    """How an order stands, and whether it is past its time and still here."""
    if not waits:
        return "handed over", False
    if ready is None:
        return "no load is planned for it", False
    if ready > facts.now:
        return f"ready {names.clock(facts.house, ready)}", False
    if occasion.until < facts.now:
        return "not collected", True
    return "ready", False
