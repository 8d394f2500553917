"""What doors still to be opened for other meat will cost a load: no reading of its core has felt them yet."""

from collections.abc import Iterator
from datetime import datetime

from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts, all_steps, find_load, pit_at
from board.views.steps import due_at, is_done

_OPENING = ("load", "wrap", "pull")


def door_minutes_ahead(
    facts: Facts, plan: Plan, load: PlannedLoad, *, since: datetime, until: datetime
) -> float:
    """Minutes a load loses to other meat loaded, wrapped or pulled on its pit between two moments.

    As the plan counts them: `door_minutes` of its pit for each five minutes in which the door is opened.
    """
    from board.planning.grid import SLOT_MINUTES  # noqa: PLC0415 - arrays load at the first reading

    pit = facts.house.pits[pit_at(facts, load, plan.day)]
    if pit.door_minutes <= 0:
        return 0.0
    opened = _openings(facts, plan, load, pit.id)
    slots = {moment.timestamp() // (60 * SLOT_MINUTES) for moment in opened if since < moment < until}
    return pit.door_minutes * len(slots)


def _openings(facts: Facts, own: Plan, load: PlannedLoad, pit: str) -> Iterator[datetime]:
    """When the pit's door was or will be opened for other loads: as marked, else as they now fall due."""
    for plan, step in all_steps(facts):
        other = find_load(plan, step.load)
        if other is None or step.what not in _OPENING or pit_at(facts, other, plan.day) != pit:
            continue
        if (plan.day, other.id) == (own.day, load.id):
            continue
        if (plan.day, step.id) in facts.done:
            yield facts.done[plan.day, step.id].at
        elif not is_done(facts, plan, step):
            yield due_at(facts, plan, step)
