"""Whether the crew can watch all that burns beside its work, and is there whenever a load may be done."""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from board.house.model import House
from board.planning.plan import Plan

# planning/data/costs.toml as it stood when this was written: what a task leaves of a person.
TASK_PERCENT = 60
ON_THE_PITS = frozenset({"load", "wrap", "pull", "light"})
SLOT = timedelta(minutes=5)

# Who is there, on shift and on no break, at a moment.
There = Callable[[datetime], frozenset[str]]


def watching_faults(plan: Plan, house: House, there: There) -> Iterator[str]:
    """Every moment at which fires and tasks ask for more attention than the people there have."""
    tasks = [(s.at, max(s.ends_at, s.at + SLOT)) for s in plan.steps if s.what in ON_THE_PITS]
    fires = [fire for pit in house.pits for fire in _fires(plan, pit)]
    for moment in sorted({begin for begin, _ in tasks} | {begin for _, begin, _ in fires}):
        tended = sum(house.pits[p].tend_fraction * 100 for p, begin, end in fires if begin <= moment < end)
        asked = tended + TASK_PERCENT * sum(begin <= moment < end for begin, end in tasks)
        if asked > 100 * len(there(moment)) + 1e-6:
            yield f"{asked:.0f} in 100 of {len(there(moment))} people's attention is asked at {moment}"


def _fires(plan: Plan, pit: str) -> Iterator[tuple[str, datetime, datetime]]:
    """From when to when a pit burns: its lightings and changes, until the last meat of each is off."""
    steps = sorted((s for s in plan.steps if s.pit == pit), key=lambda s: s.at)
    for n, step in enumerate(steps):
        after = steps[n + 1].at if n + 1 < len(steps) else None
        here = [
            load
            for load in plan.loads
            if load.pit == pit
            and step.at <= (load.turn_at or load.load_at)
            and (after is None or load.load_at < after)
        ]
        out = max((load.pull_at.p90 for load in here), default=step.at)
        follows = n + 1 < len(steps) and steps[n + 1].what == "set"
        yield pit, step.at, (after if follows and after is not None else out)


def pulling_faults(plan: Plan, house: House, there: There) -> Iterator[str]:
    """Every load that may be done while nobody is there who can take it off."""
    for load in plan.loads:
        moment = load.pull_at.p10 + SLOT
        while moment < load.pull_at.p90:
            able = [p for p in there(moment) if not house.people[p].can or "pull" in house.people[p].can]
            if not able:
                yield f"{load.id} may be done at {moment}, and nobody is there to pull it"
                break
            moment += SLOT
