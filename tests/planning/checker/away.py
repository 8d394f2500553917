"""Goes over breaks: nobody is asked for work in a pause that is theirs."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from board.house.model import House
from board.planning.plan import Plan, PlannedStep

Occasion = tuple[datetime, datetime]


def away(begin: datetime, minutes: float, turn: int, pauses: list[tuple[float, float]]) -> list[Occasion]:
    """The pauses of the person in one turn of a shift: (minutes into it, minutes long) each, in order."""
    found = []
    for n, (after, long) in enumerate(pauses):
        until = pauses[n + 1][0] if n + 1 < len(pauses) else minutes
        turns = max(1, int((until - after) / long + 1e-9))
        first = begin + timedelta(minutes=after + (turn % turns) * long)
        found.append((first, first + timedelta(minutes=long)))
    return found


def in_break(house: House, step: PlannedStep, begins: dict[str, list[datetime]]) -> bool:
    """Whether a step's person is on a break in it; `begins` are each shift's starts."""
    for shift in house.shifts:
        for turn, person in enumerate(shift.people):
            pauses = [(b.after_minutes, b.minutes) for b in shift.breaks]
            if person != step.who or not pauses:
                continue
            for begin in begins[shift.id]:
                for first, last in away(begin, shift.when.minutes, turn, pauses):
                    if step.at < last and first < step.ends_at:
                        return True
    return False


def break_faults(plan: Plan, house: House, begins: dict[str, list[datetime]]) -> Iterator[str]:
    """Every step given to somebody who is on a break."""
    for step in plan.steps:
        if step.who is not None and step.minutes > 0 and in_break(house, step, begins):
            yield f"{step.id}: {house.people[step.who].name} is on a break"
