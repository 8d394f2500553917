"""A planned load's likely times now, from everything the ledger knows of it."""

from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts, aim_c, load_state
from board.views.progress import Progress, Revised, progress


def likely_times(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None = None) -> Progress:
    """When a load is likely pulled and ready, and how that stands against when it is needed."""
    return progress(load, load_state(facts, load, plan.day), facts.now, revised, aim_c(facts, load))
