"""People in shifts that overlap, more of them where there is more to do."""

from datetime import date, time
from math import ceil
from random import Random

from board.house.model import Break, Person, Recurrence, Shift
from tests.planning.generator.sizes import Size

# Who has only just begun: no fires, no knives.
_BEGINNER = frozenset({"load", "pull", "wrap", "rub", "brine", "make"})
_FIRST = date(2026, 6, 1)


def crew_of(draw: Random, size: Size) -> tuple[dict[str, Person], tuple[Shift, ...]]:
    """The people and their shifts: a night hand or several, opening, service and closing crews."""
    nights = 1 + size.pits // 4
    days = max(3, ceil(size.loads / 9))
    people: dict[str, Person] = {}
    shifts = [
        _shift(draw, people, "night", time(20), 10.0, nights),
        _shift(draw, people, "opening", time(5), 9.0, days),
        _shift(draw, people, "service", time(9, 30), 9.0, days),
        _shift(draw, people, "closing", time(13), 9.5, days),
    ]
    return people, tuple(shifts)


def _shift(draw: Random, people: dict[str, Person], name: str, at: time, hours: float, count: int) -> Shift:
    ids = tuple(f"{name}-{n}" for n in range(count))
    for n, id in enumerate(ids):
        beginner = n > 0 and draw.random() < 0.2
        people[id] = Person(id, id.replace("-", " ").capitalize(), _BEGINNER if beginner else frozenset())
    breaks = (Break(180.0, 30.0),) if 2 <= count <= 6 else ()
    return Shift(name, name, ids, Recurrence(_FIRST, at, hours * 60, "FREQ=DAILY"), breaks)
