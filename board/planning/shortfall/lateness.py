"""Portions that come late, gathered by service and item."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from board.planning.demand import Need
from board.planning.problem import Assignment, Mode, Part, Placed, Problem
from board.planning.shortfall.lacking import (
    IN_TIME,
    given_by,
    lacking,
    late_for,
    late_minutes,
    not_in_time,
)


@dataclass(frozen=True)
class Late:
    """Late portions of one service and item: when the last of them usually comes, and when surely."""

    need: Need
    service: str
    parts: tuple[Part, ...]
    portions: int
    minutes: float
    usual: datetime
    surely: datetime


def late_portions(problem: Problem, plan: Assignment, needs: Sequence[Need]) -> tuple[Late, ...]:
    """What is cooked and comes late, service by service."""
    together: dict[tuple[str, str], Late] = {}
    for late in sorted(_late_loads(problem, plan, needs), key=lambda one: one.minutes):
        before = together.get((late.service, late.need.item))
        together[late.service, late.need.item] = late if before is None else _with(late, before)
    return tuple(together.values())


def _with(last: Late, before: Late) -> Late:
    """Two lots as one, told by the last."""
    return replace(last, portions=last.portions + before.portions, parts=before.parts + last.parts)


def _late_loads(problem: Problem, plan: Assignment, needs: Sequence[Need]) -> Iterator[Late]:
    """Each load late for a service, with the promised portions that only it gives."""
    for need in needs:
        here = [(p, plan.placed[p.id]) for p in problem.parts if p.need is need and p.id in plan.placed]
        late = {part.id: late_for(problem, part, at) for part, at in here}
        given = given_by(problem, plan, need)
        never = dict(lacking(need, given))
        for service, missing in not_in_time(need, given):
            left = missing - never.get(service, 0)
            for part, at in here:
                if service in late[part.id] and left > 0:
                    yield _late(part, at, service, late[part.id][service], min(part.portions, left))
                    left -= part.portions


def _late(part: Part, at: Placed, service: str, minutes: float, portions: int) -> Late:
    opens = next(due.at for due in part.share.serves if due.occasion.id == service)
    usual, span = opens + timedelta(minutes=minutes), at.mode.cook.minutes
    surely = usual + timedelta(minutes=span.p90 - span.p50)
    return Late(part.need, service, (part,), portions, minutes, usual, surely)


def in_time(problem: Problem, part: Part) -> Part:
    """The part with only those starts left from which its usual cook is in time."""

    def timely(mode: Mode, start: int) -> bool:
        return late_minutes(problem, part, Placed(mode, start, part.rest_min)) <= IN_TIME

    modes = (replace(m, starts=tuple(s for s in m.starts if timely(m, s))) for m in part.modes)
    return replace(part, modes=tuple(modes))
