"""What is left as a service closes: of loads off their pits that no service or order still waits for."""

from dataclasses import dataclass
from datetime import timedelta

from board.ledger.state import WatchKind
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.facts import OFF_AND_THERE, Facts, all_loads, load_state
from board.views.hold_age import age_of
from board.views.likely import likely_times
from board.views.reference import ref

CLOSES_WITHIN = timedelta(hours=12)


@dataclass(frozen=True, slots=True)
class Leftover:
    """What is left of one load: its key, what it is, how much and how old."""

    key: str
    name: str
    about: str
    is_held: bool


def leftovers(facts: Facts) -> tuple[Leftover, ...]:
    """What nothing waits for any more, the oldest first; what is being cooled is seen to."""
    cooled = {(watch.load_day, watch.load) for watch in facts.watches if watch.kind is WatchKind.COOLING}
    found = []
    for plan, load in all_loads(facts):
        state = load_state(facts, load, plan.day)
        if state.stage not in OFF_AND_THERE or state.portions_left <= 0 or (plan.day, load.id) in cooled:
            continue
        if is_over(facts, plan, load):
            age = age_of(facts, plan, load, likely_times(facts, plan, load))
            about = f"{names.pieces(facts.house, load)}, {age.says}"
            left = names.portions(facts.house, load.item, state.portions_left)
            held = state.holding_at is not None
            found.append((-age.minutes, Leftover(ref(plan.day, load.id), left, about, held)))
    return tuple(one for _, one in sorted(found, key=lambda pair: (pair[0], pair[1].key)))


def is_over(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    """Whether all that a load is for, or that could still sell its item that day, is over or sold out.

    What was over long ago is another day's: it is seen to in the record.
    """
    wants = [one for one in plan.occasions if one.id in load.services or load.item in one.promises]
    if not wants or max(one.until for one in wants) < facts.now - CLOSES_WITHIN:
        return False
    out = facts.sold_out
    return all(one.until <= facts.now or (plan.day, one.id, load.item) in out for one in wants)
