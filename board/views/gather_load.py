"""All that is known of one load of any day: its plan, marks, readings, and what was written about it."""

from dataclasses import dataclass, replace

from board.house.read_probes import silence_of
from board.ledger import read
from board.ledger.counted import counted
from board.ledger.doubtful import doubtful
from board.ledger.fed import struck_readings
from board.ledger.open import Ledger
from board.ledger.state import Entry, Reading
from board.planning.plan import Plan
from board.views.facts import Done, Facts, find_load
from board.views.gather import corrections
from board.views.reference import parts


@dataclass(frozen=True, slots=True)
class LoadKnown:
    """The facts with all that is known of one load in them, and its entries in the order they happened.

    `struck` is what probes fed of it and somebody struck.
    """

    facts: Facts
    entries: tuple[Entry, ...]
    struck: tuple[Reading, ...] = ()


def gather_load(ledger: Ledger, facts: Facts, key: str, draft: Plan | None = None) -> LoadKnown:
    """What is known of a load; `draft` is the plan that names it where no committed one does."""
    day, id = parts(key)
    known = facts
    with ledger.reading():
        plan = facts.plans.get(day) or read.current_plan(ledger, day)
        if find_load(plan, id) is None and draft is not None:
            plan = draft
        if plan is not None:
            known = replace(known, plans={**facts.plans, day: plan})
        if day not in facts.plans:
            known = _with_marks(ledger, known, key)
        state = known.loads.get((day, id))
        if state is not None and state.on_at is not None and (day, id) not in known.readings:
            silence = silence_of(facts.house)
            cores = counted(ledger).readings(load=id, day=day, since=state.on_at, silence=silence)
            known = replace(known, readings={**known.readings, (day, id): tuple(cores)})
        steps = [step.id for step in plan.steps if step.load == id] if plan else []
        entries = tuple(read.entries_of_load(ledger, day, id, steps))
        struck = tuple(struck_readings(ledger, id, day, silence_of(facts.house)))
    right = corrections(entries)
    doubts = doubtful(ledger, entries)
    return LoadKnown(replace(known, corrected={**known.corrected, **right}, doubts=doubts), entries, struck)


def _with_marks(ledger: Ledger, facts: Facts, key: str) -> Facts:
    """The facts with the loads, steps and uses of an older day."""
    day, _ = parts(key)
    loads = {(one.day, one.id): one for one in read.load_states(ledger, day)}
    steps = read.step_states(ledger, day)
    done = {(s.day, s.id): Done(s.done_at, s.done_by or "") for s in steps if s.done_at is not None}
    uses = (*facts.uses, *read.uses(ledger, day))
    return replace(facts, loads={**facts.loads, **loads}, done={**facts.done, **done}, uses=uses)
