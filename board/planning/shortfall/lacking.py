"""How many portions a plan leaves out or brings late, service by service."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from board.house.spans import minutes_between
from board.planning.demand import Need
from board.planning.finishing import finish_minutes
from board.planning.problem import Assignment, Part, Placed, Problem, off_slot, on_slot

# A usual cook within so many minutes of its time is not called late.
IN_TIME = 1.0

# Portions by (service id, item id).
Portions = dict[tuple[str, str], int]


@dataclass(frozen=True)
class Given:
    """What one load gives: portions due by service, in all, and the services it is late for."""

    due: tuple[tuple[str, int], ...]
    portions: int
    late: frozenset[str]

    @property
    def in_time(self) -> "Given":
        """What of it is in time."""
        due = tuple((service, n) for service, n in self.due if service not in self.late)
        return replace(self, due=due, late=frozenset())


def given_by(problem: Problem, plan: Assignment, need: Need) -> list[Given]:
    """What the placed parts of a need give, in the order they come off."""
    here = [(p, plan.placed[p.id]) for p in problem.parts if p.need is need and p.id in plan.placed]
    ordered = sorted(here, key=lambda pair: (off_slot(*pair), pair[0].id))
    return [Given(_due(p), p.portions, frozenset(late_for(problem, p, at))) for p, at in ordered]


def _due(part: Part) -> tuple[tuple[str, int], ...]:
    """The portions of a part by service, as they are due of it."""
    return tuple((due.occasion.id, due.portions) for due in part.share.serves)


def late_minutes(problem: Problem, part: Part, at: Placed) -> float:
    """Minutes after its first service at which the usual cook is rested and finished; negative before."""
    on = problem.frame.grid.moment(on_slot(part, at))
    after = part.need.cut.rest_minutes[0] + finish_minutes(part.finish, part.pieces)
    return minutes_between(part.share.first.at, on) + at.mode.cook.minutes.p50 + after


def late_for(problem: Problem, part: Part, at: Placed) -> dict[str, float]:
    """The services a part is late for, each with the minutes by which it misses the first it gives to it."""
    late, first = late_minutes(problem, part, at), part.share.first.at
    opens: dict[str, float] = {}
    for due in part.share.serves:
        opens.setdefault(due.occasion.id, minutes_between(first, due.at))
    return {service: late - after for service, after in opens.items() if late - after > IN_TIME}


def lacking(need: Need, given: Iterable[Given]) -> list[tuple[str, int]]:
    """Portions missing by service, when each load gives what is due of it, and then what it has over."""
    missing = wanted(need)
    loads = list(given)
    over = [load.portions - sum(_give(missing, service, n) for service, n in load.due) for load in loads]
    for load, portions in zip(loads, over, strict=True):
        left = portions
        for service, _ in load.due:
            left -= _give(missing, service, left)
    return [(service, n) for service, n in missing.items() if n > 0]


def not_in_time(need: Need, given: Iterable[Given]) -> list[tuple[str, int]]:
    """Portions that no load gives in time, by service: left out, or only late."""
    return lacking(need, [load.in_time for load in given])


def _give(missing: dict[str, int], service: str, portions: int) -> int:
    """Give a service portions it lacks; how many it took."""
    given = max(0, min(portions, missing.get(service, 0)))
    missing[service] = missing.get(service, 0) - given
    return given


def wanted(need: Need) -> dict[str, int]:
    """All portions of a need by service, its waves together."""
    portions: dict[str, int] = {}
    for due in need.serves:
        portions[due.occasion.id] = portions.get(due.occasion.id, 0) + due.portions
    return portions


def missing_of(problem: Problem, plan: Assignment, needs: Sequence[Need]) -> Portions:
    """Everything a solution leaves out or brings late, by service and item."""
    found: Portions = {}
    for need in needs:
        for service, n in not_in_time(need, given_by(problem, plan, need)):
            found[service, need.item] = found.get((service, need.item), 0) + n
    return found
