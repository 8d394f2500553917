"""What the next hours' work must reckon with as planned: not cooked safe, too much raw meat, not sure."""

from collections.abc import Iterator
from datetime import timedelta

from board.ledger.state import BatchStage, LoadStage
from board.planning.cooked.words import not_met
from board.planning.walk_in import overfull, said
from board.views.days import near_day
from board.views.facts import Facts, all_batches, all_loads, all_steps, batch_state, load_state
from board.views.text import inert
from board.views.worth import how_unsure

_LATER = timedelta(hours=6)  # after a load is first needed it may still be served from
_AHEAD = timedelta(hours=18)  # as far as the work that is shown to do next


def warnings(facts: Facts) -> tuple[str, ...]:
    """Sentences for the top of the day; nothing when all is well."""
    return (*_not_cooked(facts), *_walk_in(facts), *_unsure(facts))


def _not_cooked(facts: Facts) -> Iterator[str]:
    """The loads now or soon on that do not meet their cooking rule as planned."""
    for plan, load in all_loads(facts):
        stage = load_state(facts, load, plan.day).stage
        gone = stage in (LoadStage.LOST, LoadStage.SERVED) or load.cut not in facts.house.cuts
        if not gone and load.load_at < facts.now + _AHEAD and facts.now < load.needed_at + _LATER:
            yield from map(inert, not_met(facts.house, [load], plan.cooked))


def _walk_in(facts: Facts) -> Iterator[str]:
    """The spans now or soon in which more raw meat waits than the walk-in takes, by all near plans."""
    loads = [
        load
        for plan, load in all_loads(facts)
        if load_state(facts, load, plan.day).stage is not LoadStage.LOST
    ]
    known = [load for load in loads if load.cut in facts.house.cuts]
    steps = [step for _, step in all_steps(facts)]
    gone = (BatchStage.USED, BatchStage.DISCARDED)
    batches = [b for plan, b in all_batches(facts) if batch_state(facts, b, plan.day).stage not in gone]
    draws = [draw for plan in facts.plans.values() for draw in plan.draws]
    for over in overfull(facts.house, known, steps, batches, draws):
        if over.since < facts.now + _AHEAD and over.until > facts.now:
            yield inert(said(facts.house, over, known, batches))


def _unsure(facts: Facts) -> Iterator[str]:
    """The services now ahead that were planned below the chance they want."""
    for plan in facts.plans.values():
        for risk in plan.risks:
            if risk.unsure and facts.now < risk.at < facts.now + _AHEAD:
                day = "" if plan.day == facts.today else f" ({near_day(facts, plan.day)})"
                yield f"As planned, {how_unsure(plan, risk)}{day}."
