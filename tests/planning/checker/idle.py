"""Goes over steps that nobody does: each is told, and nobody able stands idle when it could be done."""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from board.house.model import House
from board.planning.plan import Plan, PlannedStep

SLOT = timedelta(minutes=5)
# A step is done whole slots at a time, and its gaps are rounded so.
SLACK = 2 * SLOT

# Who is there, on shift and on no break, at a moment.
There = Callable[[datetime], frozenset[str]]


def idle_faults(plan: Plan, house: House, there: There, now: datetime | None) -> Iterator[str]:
    """Every step of preparation without a person that somebody idle could do where it may be done.

    A plan made `now` asks for nothing sooner, nor for what uses a batch before that is ready.
    """
    for step in (s for s in plan.steps if s.who is None):
        if not any(says.startswith(f"Nobody is free to {step.what} ") for says in plan.cautions):
            yield f"{step.id}: nothing is said of nobody doing it"
        span = _may_begin(plan, house, step)
        moment = span[0] if span else step.at
        while span and moment <= span[1]:
            if now is not None and moment < max(now, _batch_ready(plan, house, step) or now):
                moment += SLOT
                continue
            who = next((p for p in house.people if _could(plan, house, there, p, step, moment)), None)
            if who is not None:
                yield f"{step.id}: {house.people[who].name} could do it at {moment}"
                break
            moment += SLOT


def _batch_ready(plan: Plan, house: House, step: PlannedStep) -> datetime | None:
    """When the batch that a step uses is ready; None where it uses none."""
    load = next((load for load in plan.loads if load.id == step.load), None)
    recipes = [rule.recipe for rule in house.cuts[load.cut].prep if rule.what == step.what] if load else []
    ready = [b.ready_from for b in plan.batches if b.recipe in recipes and step.load in b.loads]
    return max(ready, default=None)


def _may_begin(plan: Plan, house: House, step: PlannedStep) -> tuple[datetime, datetime] | None:
    """From when to when a step of preparation may begin, the steps beside it staying where they are."""
    load = next((load for load in plan.loads if load.id == step.load), None)
    rules = house.cuts[load.cut].prep if load is not None else ()
    n = next((i for i, rule in enumerate(rules) if rule.what == step.what), None)
    if load is None or n is None:
        return None
    chain = [next((s for s in plan.steps if s.load == load.id and s.what == r.what), None) for r in rules]
    before, after = (chain[n - 1] if n > 0 else None), (chain[n + 1] if n + 1 < len(chain) else None)
    until = after.at if after is not None else load.load_at
    shortest, longest = (timedelta(minutes=min(m, 5760.0)) for m in rules[n].gap_minutes)
    long = step.ends_at - step.at
    first, last = until - longest - long + SLACK, until - shortest - long - SLOT
    if before is not None:
        least, most = (timedelta(minutes=min(m, 5760.0)) for m in rules[n - 1].gap_minutes)
        first, last = max(first, before.ends_at + least + SLOT), min(last, before.ends_at + most - SLACK)
    return (first, last) if first <= last else None


def _could(plan: Plan, house: House, there: There, person: str, step: PlannedStep, moment: datetime) -> bool:
    """Whether somebody able is there and has nothing to do, some minutes before and after included."""
    if house.people[person].can and step.what not in house.people[person].can:
        return False
    begin, end = moment - SLOT, moment + max(SLOT, step.ends_at - step.at) + SLOT
    theirs = (s for s in plan.steps if s.who == person)
    if any(s.at < end and begin < max(s.ends_at, s.at + SLOT) for s in theirs):
        return False
    slots = int((end - begin) / SLOT) + 1
    return all(person in there(begin + n * SLOT) for n in range(slots))
