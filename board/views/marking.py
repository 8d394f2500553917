"""The steps that can be marked in one go: those due now or soon, and the next of each load that has begun."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.spans import minutes_between
from board.ledger.state import LoadStage
from board.planning.plan import Plan, PlannedStep
from board.views.days import when
from board.views.do_next import OVERDUE_MINUTES
from board.views.facts import Facts, all_loads, load_state
from board.views.progress import Revised
from board.views.reference import ref
from board.views.steps import due_at, next_of, say, to_do
from board.views.text import inert

SOON = timedelta(hours=1)
_BEGUN = frozenset(LoadStage) - {LoadStage.PLANNED, LoadStage.PREPPED, LoadStage.SERVED, LoadStage.LOST}


@dataclass(frozen=True, slots=True)
class Markable:
    """A step that can be marked: when it falls due, what it is, of which kind, and whether that is soon."""

    key: str
    at: datetime
    clock: str
    says: str
    kind: str
    overdue: bool
    soon: bool


def markable(facts: Facts, revised: Revised | None = None) -> tuple[Markable, ...]:
    """The steps by time; making a batch is left out, since it is weighed, and so is what needs a reading."""
    found: dict[str, Markable] = {}
    for due in to_do(facts, facts.now + SOON, revised):
        _take(found, facts, due.plan, due.step, due.at)
    for plan, step in _next_steps(facts):
        _take(found, facts, plan, step, due_at(facts, plan, step, revised))
    return tuple(sorted(found.values(), key=lambda one: (one.at, one.key)))


def _next_steps(facts: Facts) -> Iterator[tuple[Plan, PlannedStep]]:
    for plan, load in all_loads(facts):
        if load_state(facts, load, plan.day).stage in _BEGUN:
            step = next_of(facts, plan, load.id)
            if step is not None:
                yield plan, step


def _take(found: dict[str, Markable], facts: Facts, plan: Plan, step: PlannedStep, at: datetime) -> None:
    key = ref(plan.day, step.id)
    if key in found or step.most_c is not None or (step.batch is not None and step.load is None):
        return
    late = minutes_between(at, facts.now) > OVERDUE_MINUTES
    soon = at < facts.now + SOON
    found[key] = Markable(key, at, when(facts, at), say(facts, plan, step), inert(step.what), late, soon)
