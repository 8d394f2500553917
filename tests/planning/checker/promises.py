"""Goes over what is promised when: each wave of each service gets its portions from loads that are for it."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from board.house.model import House
from board.planning.plan import Occasion, Plan, PlannedLoad


def promise_faults(plan: Plan, house: House) -> Iterator[str]:
    """Every promise that is neither served nor told as short, all in all and wave by wave."""
    for item in {item for occasion in plan.occasions for item in occasion.promises}:
        taken = _given(plan, item)
        for occasion in plan.occasions:
            promised = occasion.promises.get(item, 0)
            lacking = sum(s.portions for s in plan.short if (s.service, s.item) == (occasion.id, item))
            here = [(load, n) for load, who, n in taken if who == occasion.id]
            made = sum(n for _, n in here)
            if made + lacking < promised:
                yield f"{occasion.id}: {promised} {item} promised, {made} made, {lacking} told as short"
            if lacking > promised:
                yield f"{occasion.id}: {lacking} {item} told as short of {promised}"
            due = 0
            for at, portions in wanted(house, occasion, item):
                due += portions
                ready = sum(n for load, n in here if load.needed_at <= at)
                if ready + lacking < due:
                    yield f"{occasion.id}: {due} {item} due by {at}, {ready} made, {lacking} told as short"


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


def _given(plan: Plan, item: str) -> list[tuple[PlannedLoad, str, int]]:
    """Portions of each load for each of its services, none twice.

    Each service in turn is given from the loads that serve it and go no further, before those that do; so no
    other sharing out serves more.
    """
    opens = {occasion.id: occasion.at for occasion in plan.occasions}
    loads = sorted((ld for ld in plan.loads if ld.item == item), key=lambda ld: (ld.needed_at, ld.id))
    left = {load.id: load.portions for load in loads}
    found = []
    for occasion in sorted(plan.occasions, key=lambda o: (o.at, o.id)):
        missing = occasion.promises.get(item, 0)
        here = [load for load in loads if occasion.id in load.services]
        for load in sorted(here, key=lambda ld: max((opens[s], s) for s in ld.services)):
            n = min(left[load.id], missing)
            left[load.id] -= n
            missing -= n
            found.append((load, occasion.id, n))
    return found
