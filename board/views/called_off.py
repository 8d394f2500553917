"""Loads that nothing waits for any more: their item was marked sold out at every service they are for."""

from board.planning.plan import PlannedLoad
from board.views.facts import Facts


def is_called_off(facts: Facts, load: PlannedLoad) -> bool:
    """Whether all that a load is for has its item sold out, so that nothing urges it."""
    day = next((plan.day for plan in facts.plans.values() if load in plan.loads), None)
    if day is None or not load.services:
        return False
    return all((day, service, load.item) in facts.sold_out for service in load.services)
