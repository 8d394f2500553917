"""A planned load's likely times now, from everything the ledger knows of it."""

from dataclasses import replace

from board.ledger.state import LoadState
from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts, aim_c, load_state
from board.views.fed import with_coldest
from board.views.progress import Progress, Revised, left_out_of, progress


def likely_times(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None = None) -> Progress:
    """When a load is likely pulled and ready, and how that stands against when it is needed."""
    state = counted_state(facts, plan, load, revised)
    return progress(load, state, facts.now, revised, aim_c(facts, load))


def counted_state(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None = None) -> LoadState:
    """How a load stands, its last core the last that counts."""
    state = load_state(facts, load, plan.day)
    left_out = left_out_of(revised, load.id)
    readings = facts.readings.get((plan.day, load.id), ())
    if not left_out:
        return with_coldest(state, readings)
    counted = [r for r in readings if r.key not in left_out]
    if not counted:
        return replace(state, last_core_c=None, last_core_at=None)
    last = replace(state, last_core_c=counted[-1].temperature_c, last_core_at=counted[-1].at)
    return with_coldest(last, counted)
