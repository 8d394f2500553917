"""The loads of one batch: those it is for, and those that have had some of it."""

from board.ledger.state import LoadStage
from board.views import names
from board.views.batch_card import planned
from board.views.days import near_day
from board.views.facts import Facts, load_of, load_state
from board.views.reference import parts, ref
from board.views.taking import claims


def loads_of(facts: Facts, key: str) -> list[tuple[str, str, str]]:
    """Each load by its key, with what it is called and how it stands; the first planned first."""
    day, id = parts(key)
    found = planned(facts, key)
    wanted = [ref(claim.plan.day, claim.load.id) for claim in claims(facts, *found)] if found else []
    had = [ref(use.day, use.load) for use in facts.uses if (use.batch_day, use.batch) == (day, id)]
    told = []
    for load_key in dict.fromkeys([*wanted, *had]):
        pair = load_of(facts, load_key)
        if pair is not None:
            plan, load = pair
            stage = load_state(facts, load, plan.day).stage
            stands = "" if stage is LoadStage.PLANNED else f", {stage}"
            told.append(
                (load_key, names.pieces(facts.house, load), f"for {near_day(facts, plan.day)}{stands}")
            )
    return told
