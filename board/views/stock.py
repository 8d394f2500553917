"""Where the portions of an item are: ready, to be finished, resting, to come, kept for orders, for later."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from board.ledger.state import LoadStage, LoadState
from board.planning.plan import Occasion, Plan, PlannedLoad, PlannedStep
from board.views.facts import Facts, load_state
from board.views.likely import likely_times
from board.views.progress import Progress, Revised
from board.views.steps import is_done

_GONE = (LoadStage.SERVED, LoadStage.LOST)


class Where(StrEnum):
    """How far the portions of a load are."""

    READY = "ready"
    FINISHING = "to finish"
    RESTING = "resting"
    COMING = "coming"


@dataclass(frozen=True, slots=True)
class Part:
    """What is left of one load of an item; `finish` is the work that it waits for before it can be served.

    `own` tells that it is for this service; `free` that it is for this service or for an order, whose
    portions are counted aside.
    """

    load: PlannedLoad
    state: LoadState
    likely: Progress
    where: Where
    own: bool
    free: bool
    finish: PlannedStep | None = None

    @property
    def portions(self) -> int:
        """Portions left of it."""
        return self.state.portions_left


@dataclass(frozen=True, slots=True)
class Stock:
    """The loads of one item for one service, and how many ready portions are kept for orders."""

    item: str
    parts: tuple[Part, ...]
    aside: int

    def portions(self, where: Where) -> int:
        """Portions of this service so far; what orders have coming is theirs."""
        total = sum(part.portions for part in self.free if part.where is where)
        return max(0, total - self.aside) if where is Where.READY else total

    @property
    def free(self) -> tuple[Part, ...]:
        """The loads that may be served now, orders first."""
        return tuple(part for part in self.parts if part.free)

    @property
    def later(self) -> tuple[Part, ...]:
        """The loads that are for a later service only."""
        return tuple(part for part in self.parts if not part.free)

    def arrivals(self, now: datetime) -> list[tuple[datetime, int]]:
        """When portions become ready that are not yet: rested, finished, or off their pit and rested."""
        found = []
        for part in self.parts:
            if part.own and part.where is Where.FINISHING and part.finish is not None:
                found.append((now + timedelta(minutes=part.finish.minutes), part.portions))
            elif part.own and part.where is not Where.READY:
                found.append((part.likely.ready.p50, part.portions))
        return found


def stock_of(
    facts: Facts, plan: Plan, occasion: Occasion, item: str, revised: Revised | None = None
) -> Stock:
    """Where all that is left of an item stands."""
    orders = {one.id: one for one in plan.occasions if one.is_order and item in one.promises}
    loads = sorted((ld for ld in plan.loads if ld.item == item), key=lambda ld: (ld.ready_at.p50, ld.id))
    found = (_part(facts, plan, load, (occasion.id, *orders), revised) for load in loads)
    parts = tuple(part for part in found if part is not None)
    aside = 0
    for order in orders.values():
        wanted = order.promises[item] - facts.sold.get((plan.day, order.id, item), 0)
        coming = sum(p.portions for p in parts if p.where is not Where.READY and order.id in p.load.services)
        aside += max(0, wanted - coming)
    return Stock(item, parts, aside)


def _part(
    facts: Facts, plan: Plan, load: PlannedLoad, served: tuple[str, ...], revised: Revised | None
) -> Part | None:
    """What is left of a load; `served` is this service, then the orders. None where it is gone."""
    state = load_state(facts, load, plan.day)
    if state.stage in _GONE or state.portions_left <= 0:
        return None
    likely = likely_times(facts, plan, load, revised)
    finish = _to_finish(facts, plan, load, state)
    own = served[0] in load.services
    free = own or any(id in load.services for id in served)
    return Part(load, state, likely, _where(state, likely, finish, facts.now), own, free, finish)


def _where(state: LoadState, likely: Progress, finish: PlannedStep | None, now: datetime) -> Where:
    is_off = state.pulled_at is not None or state.stage is LoadStage.HOLDING
    if not is_off:
        return Where.COMING
    if state.stage is not LoadStage.HOLDING and likely.ready.p50 > now:
        return Where.RESTING
    return Where.FINISHING if finish is not None else Where.READY


def _to_finish(facts: Facts, plan: Plan, load: PlannedLoad, state: LoadState) -> PlannedStep | None:
    """The finishing work that is planned for a load and not marked; what was sold from it was finished."""
    item = facts.house.items.get(load.item)
    if item is None or 0 < state.portions_left < state.portions:
        return None
    whats = {rule.what for rule in item.finish}
    steps = sorted((s for s in plan.steps if s.load == load.id and s.what in whats), key=lambda s: s.at)
    return next((step for step in steps if not is_done(facts, plan, step)), None)
