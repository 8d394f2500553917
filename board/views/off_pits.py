"""What is off its pit and not gone: it stays in sight until somebody says what became of it."""

from collections.abc import Iterator
from datetime import datetime
from itertools import chain

from board.ledger.state import OFF_AND_THERE, WatchKind
from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts, all_loads, load_state


def with_earlier(facts: Facts) -> Iterator[tuple[Plan, PlannedLoad]]:
    """Every load of the near days, and of earlier ones those that are off their pits and not gone."""
    older = ((plan, load) for plan in facts.earlier.values() for load in plan.loads)
    left = ((plan, load) for plan, load in older if (plan.day, load.id) in facts.loads)
    return chain(left, all_loads(facts))


def off_pits(facts: Facts) -> Iterator[tuple[Plan, PlannedLoad]]:
    """The loads that are off their pits with something left of them that nobody set to cool."""
    cooled = {(watch.load_day, watch.load) for watch in facts.watches if watch.kind is WatchKind.COOLING}
    for plan, load in with_earlier(facts):
        state, key = load_state(facts, load, plan.day), (plan.day, load.id)
        is_there = state.stage in OFF_AND_THERE and state.portions_left > 0
        if is_there and key not in cooled and key not in facts.cooled:
            yield plan, load


def ends(plan: Plan, load: PlannedLoad) -> list[datetime]:
    """When the services end that a load is for, and the others of its day that promise its item."""
    return [
        occasion.until
        for occasion in plan.occasions
        if occasion.id in load.services or load.item in occasion.promises
    ]


def is_over(plan: Plan, load: PlannedLoad, now: datetime) -> bool:
    """Whether all that a load is for, or may still serve that day, is over."""
    found = ends(plan, load)
    return bool(found) and max(found) <= now
