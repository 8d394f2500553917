"""Portions that come late, gathered by service and item."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from board.planning.demand import Need
from board.planning.problem import Assignment, Mode, Part, Placed, Problem
from board.planning.shortfall.lacking import IN_TIME, given_by, lacking, late_minutes, wanted


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
    """Each late load, with the promised portions that only it gives."""
    for need in needs:
        here = [(p, plan.placed[p.id]) for p in problem.parts if p.need is need and p.id in plan.placed]
        minutes = {part.id: late_minutes(problem, part, at) for part, at in here}
        cooked = sum(wanted(need).values()) - sum(n for _, n in lacking(need, given_by(problem, plan, need)))
        left = cooked - sum(part.portions for part, _ in here if minutes[part.id] <= IN_TIME)
        for part, at in here:
            if minutes[part.id] > IN_TIME and left > 0:
                yield _late(part, at, minutes[part.id], min(part.portions, left))
                left -= part.portions


def _late(part: Part, at: Placed, minutes: float, portions: int) -> Late:
    usual, span = part.share.first.at + timedelta(minutes=minutes), at.mode.cook.minutes
    surely = usual + timedelta(minutes=span.p90 - span.p50)
    return Late(part.need, part.services[0], (part,), portions, minutes, usual, surely)


def in_time(problem: Problem, part: Part) -> Part:
    """The part with only those starts left from which its usual cook is in time."""

    def timely(mode: Mode, start: int) -> bool:
        return late_minutes(problem, part, Placed(mode, start, part.rest_min)) <= IN_TIME

    modes = (replace(m, starts=tuple(s for s in m.starts if timely(m, s))) for m in part.modes)
    return replace(part, modes=tuple(modes))
