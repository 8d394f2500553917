"""How a planned load is cooked safe, as its views say it."""

from board.planning.cooked.words import said
from board.planning.plan import CookedBy, Plan, PlannedLoad
from board.views.facts import Facts
from board.views.text import Cell, Tone, inert

_TONES = {CookedBy.PULL: Tone.QUIET, CookedBy.REST: Tone.CARE, CookedBy.NOT_MET: Tone.LATE}


def cooked_cell(facts: Facts, plan: Plan, load: PlannedLoad) -> Cell | None:
    """What the plan says of it, quietly where its pull alone does it; None for a plan that says nothing."""
    cooked = plan.cooked.get(load.id)
    if cooked is None or load.cut not in facts.house.cuts:
        return None
    return Cell(inert(said(facts.house, load, cooked)), _TONES[cooked.by])


def all_by_pull(plan: Plan) -> str:
    """That no load of a plan relies on its rest to be cooked safe; empty where one does, or is not known."""
    known = [plan.cooked.get(load.id) for load in plan.loads]
    if not known or any(cooked is None or cooked.by is not CookedBy.PULL for cooked in known):
        return ""
    return "Every load is cooked safe as planned at its pull; none relies on its rest."
