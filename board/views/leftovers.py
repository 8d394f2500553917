"""What is left of what is over: of loads off their pits that no service or order still waits for."""

from dataclasses import dataclass
from datetime import datetime

from board.house.calendar import day_bounds
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.facts import Facts, load_state
from board.views.hold_age import Age, age_of
from board.views.hold_asks import held_readings, last_read, what_to_do
from board.views.likely import likely_times
from board.views.off_pits import ends, off_pits
from board.views.reference import ref


@dataclass(frozen=True, slots=True)
class Leftover:
    """What is left of one load: its key, what it is and of what, how old, when it was read, what to do."""

    key: str
    name: str
    pieces: str
    age: Age
    read: str
    todo: str
    is_held: bool
    since: datetime
    is_read: bool

    @property
    def about(self) -> str:
        """Of what it is left, and how old that is of how old it may get."""
        return f"{self.pieces}, {self.age.says}"


def leftovers(facts: Facts) -> tuple[Leftover, ...]:
    """What nothing waits for any more, the oldest first, until it is said what became of it."""
    found = []
    for plan, load in off_pits(facts):
        since = over_since(facts, plan, load)
        if since is not None:
            found.append(_leftover(facts, plan, load, since))
    return tuple(sorted(found, key=lambda one: (-one.age.minutes, one.key)))


def _leftover(facts: Facts, plan: Plan, load: PlannedLoad, since: datetime) -> Leftover:
    state = load_state(facts, load, plan.day)
    return Leftover(
        key=ref(plan.day, load.id),
        name=names.portions(facts.house, load.item, state.portions_left),
        pieces=names.pieces(facts.house, load),
        age=age_of(facts, plan, load, likely_times(facts, plan, load)),
        read=last_read(facts, plan, load),
        todo=what_to_do(facts, plan, load),
        is_held=state.holding_at is not None,
        since=since,
        is_read=bool(held_readings(facts, plan, load)),
    )


def over_since(facts: Facts, plan: Plan, load: PlannedLoad) -> datetime | None:
    """Since when all that a load is for, or may still serve that day, is over or sold out; None before that.

    What is for nothing is over with its day.
    """
    found = ends(plan, load)
    last = max(found) if found else day_bounds(plan.day, facts.house.zone)[1]
    if last <= facts.now:
        return last
    return facts.now if found and _is_sold_out(facts, plan, load) else None


def _is_sold_out(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    """Whether every service that is not over and could sell of it has its item sold out."""
    ahead = [one for one in plan.occasions if one.id in load.services or load.item in one.promises]
    return all(one.until <= facts.now or (plan.day, one.id, load.item) in facts.sold_out for one in ahead)
