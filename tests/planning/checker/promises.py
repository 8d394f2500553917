"""Goes over what is promised when: each wave of each service gets its portions from loads that are for it."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_flow

from board.house.model import House
from board.planning.plan import Occasion, Plan, PlannedLoad


def promise_faults(plan: Plan, house: House) -> Iterator[str]:
    """Every promise that is neither served nor told as short, all in all and wave by wave."""
    for item in {item for occasion in plan.occasions for item in occasion.promises}:
        dues = [(occasion, at, n) for occasion in plan.occasions for at, n in wanted(house, occasion, item)]
        loads = [load for load in plan.loads if load.item == item]
        short = [(s.service, s.portions) for s in plan.short if s.item == item]
        met = _met(dues, loads, short)
        for (occasion, at, portions), there in zip(dues, met, strict=True):
            if there < portions:
                yield f"{occasion.id}: {portions} {item} promised, due by {at}, {there} made or told as short"
        for occasion in plan.occasions:
            lacking = sum(n for service, n in short if service == occasion.id)
            if lacking > occasion.promises.get(item, 0):
                yield f"{occasion.id}: {lacking} {item} told as short of {occasion.promises.get(item, 0)}"


def _met(
    dues: list[tuple[Occasion, datetime, int]], loads: list[PlannedLoad], short: list[tuple[str, int]]
) -> list[int]:
    """Portions of each due that loads ready by then give or that are told as short, none twice.

    Shared out so that as many as can be are met: a greatest flow from loads to dues.
    """
    gives = [load.portions for load in loads] + [portions for _, portions in short]
    end = len(gives) + len(dues) + 1
    room = np.zeros((end + 1, end + 1), np.int32)
    room[0, 1 : len(gives) + 1] = gives
    for d, (occasion, at, portions) in enumerate(dues, start=len(gives) + 1):
        room[d, end] = portions
        fits = [occasion.id in load.services and load.needed_at <= at for load in loads]
        fits += [service == occasion.id for service, _ in short]
        for g, (fit, n) in enumerate(zip(fits, gives, strict=True), start=1):
            room[g, d] = n if fit else 0
    flow = maximum_flow(csr_matrix(room), 0, end).flow.toarray()
    return [int(n) for n in flow[len(gives) + 1 : end, end]]


def last_due(plan: Plan, load: PlannedLoad) -> datetime:
    """When the last of a load is served: its last wave, or its last service opens."""
    return max(load.waves) if load.waves else max(o.at for o in plan.occasions if o.id in load.services)


def due_faults(plan: Plan, house: House, load: PlannedLoad) -> Iterator[str]:
    """A load is needed first when one of its services wants its item, and never when none does."""
    moments = {
        at
        for occasion in plan.occasions
        if occasion.id in load.services
        for at, _ in wanted(house, occasion, load.item)
    }
    due = load.waves or (load.needed_at,)
    if load.needed_at != min(due) or not set(due) <= moments:
        yield f"{load.id}: needed at another time than its services"


def wanted(house: House, occasion: Occasion, item: str) -> list[tuple[datetime, int]]:
    """The moments an item is due at an occasion, and its portions at each."""
    promised = occasion.promises.get(item, 0)
    moments = _moments(house, occasion, item)
    spread = [(at, -((n - promised) // len(moments))) for n, at in enumerate(moments)]
    return [(at, portions) for at, portions in spread if portions > 0]


def _moments(house: House, occasion: Occasion, item: str) -> list[datetime]:
    service = house.services.get(occasion.id.rpartition(" ")[2])  # several days' plans put the day before it
    if occasion.is_order or service is None:
        return [occasion.at]
    if service.fresh.get(item):
        zone = ZoneInfo(house.zone)
        opens = occasion.at.astimezone(zone)
        found = []
        for clock in service.fresh[item]:
            day = opens.date() if clock >= service.when.at else opens.date() + timedelta(days=1)
            found.append(datetime.combine(day, clock, tzinfo=zone).astimezone(UTC))
        return sorted({min(max(at, occasion.at), occasion.until) for at in found})
    every = house.items[item].fresh_minutes if item in house.items else None
    found = [occasion.at]
    while every and (occasion.until - found[-1]).total_seconds() / 60 >= 1.5 * every - 1e-6:
        found.append(found[-1] + timedelta(minutes=every))
    return found
