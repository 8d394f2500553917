"""The chain of one load as it stands: what was done when and by whom, what is next, and what follows."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from board.house.spans import minutes_between
from board.house.wording import duration
from board.planning.plan import Plan, PlannedLoad, PlannedStep
from board.views import names
from board.views.days import lately
from board.views.facts import Facts
from board.views.progress import Revised
from board.views.steps import due_at, is_done, next_of, say

OVERDUE_MINUTES = 5


class Stands(StrEnum):
    """How a step of a chain stands."""

    DONE = "done"
    NEXT = "next"
    LATER = "later"


@dataclass(frozen=True, slots=True)
class ChainStep:
    """One step: when it was done or falls due, what it is, whose it is, how it stands, how long overdue."""

    key: str
    clock: str
    says: str
    who: str
    stands: Stands
    overdue: str = ""


def load_steps(
    facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None = None
) -> tuple[ChainStep, ...]:
    """A load's steps in order, its fire first."""
    ahead = next_of(facts, plan, load.id)
    return tuple(_step(facts, plan, step, ahead, revised) for step in _chain(plan, load))


def _chain(plan: Plan, load: PlannedLoad) -> Iterator[PlannedStep]:
    """Its own steps, and the lighting of its pit."""
    fire = [
        step
        for step in plan.steps
        if step.what == "light" and step.pit == load.pit and step.at == load.light_at
    ]
    own = [step for step in plan.steps if step.load == load.id]
    yield from sorted([*fire, *own], key=lambda step: (step.at, step.id))


def _step(
    facts: Facts, plan: Plan, step: PlannedStep, ahead: PlannedStep | None, revised: Revised | None
) -> ChainStep:
    done = facts.done.get((plan.day, step.id))
    says, who = say(facts, plan, step), names.person_name(facts.house, step.who) or "nobody"
    if done is not None:
        by = names.person_name(facts.house, done.who)
        return ChainStep(step.id, lately(facts, done.at), says, by, Stands.DONE)
    if is_done(facts, plan, step):
        return ChainStep(step.id, "", says, "", Stands.DONE)
    due = due_at(facts, plan, step, revised)
    late = minutes_between(due, facts.now)
    overdue = duration(late) if late > OVERDUE_MINUTES else ""
    stands = Stands.NEXT if step == ahead else Stands.LATER
    return ChainStep(step.id, lately(facts, due), says, who, stands, overdue)
