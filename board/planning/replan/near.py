"""What lies near some loads of a plan: the others in their way, and the fires that may change with them."""

from collections.abc import Iterator, Set

from board.planning.grid import SLOT_MINUTES
from board.planning.problem import Assignment, Part, Placed, Problem, cooking
from board.planning.search.freed import Freed, Hearth, hearths

# A pit that a load was never on is as far from it as a day.
_ELSEWHERE = 24 * 60 // SLOT_MINUTES
# As many parts, most of them held still, as the exact search writes down in a quarter of a second.
_PARTS_MOST = 40

Span = tuple[int, int]


def nearest(problem: Problem, plan: Assignment, free: Set[str]) -> list[str]:
    """The other parts that can move, those first that cook nearest in time on a pit of the free ones."""
    near: dict[str, int] = {}
    for part in problem.parts:
        if part.id not in free:
            continue
        for other in problem.parts:
            at = plan.placed.get(other.id)
            if at is not None and not other.pinned and other.id not in free:
                apart = _apart(plan, part, other, at)
                near[other.id] = min(apart, near.get(other.id, apart))
    return sorted(near, key=lambda id: (near[id], id))


def only_near(problem: Problem, plan: Assignment, free: Set[str]) -> Freed:
    """The free parts, and the fires that may change for them with all that cooks on those.

    In a large house only the pits they were on and the nearest fires of others.
    """
    fires = hearths(problem, plan)
    mine = [part for part in problem.parts if part.id in free]
    if len(problem.parts) > _PARTS_MOST:
        fires = _few(fires, plan, mine)
    parts = {part.id: part for part in (*mine, *(part for fire in fires for part in fire.parts))}
    pits = frozenset(problem.frame.pits) if len(problem.parts) <= _PARTS_MOST else _pits(fires, plan, mine)
    return Freed(tuple(parts.values()), pits, tuple(fires))


def _few(fires: list[Hearth], plan: Assignment, mine: list[Part]) -> list[Hearth]:
    """The fires nearest the parts, the ones they are on first, with as many parts as are well searched."""
    homes = {pit for part in mine for pit in _homes(plan, part)}
    spans = [span for part in mine for span in _spans(plan, part)]

    def far(fire: Hearth) -> tuple[int, int, str]:
        apart = min(_between(fire.begin, fire.end, span) for span in spans)
        return apart + (0 if fire.pit in homes else _ELSEWHERE), fire.begin, fire.pit

    found: list[Hearth] = []
    count = len(mine)
    on = {part.id for part in mine}
    for fire in sorted(fires, key=far):
        count += sum(part.id not in on for part in fire.parts)
        if found and count > _PARTS_MOST:
            break
        found.append(fire)
    return found


def _pits(fires: list[Hearth], plan: Assignment, mine: list[Part]) -> frozenset[str]:
    homes = {pit for part in mine for pit in _homes(plan, part)}
    return frozenset(homes | {fire.pit for fire in fires})


def _homes(plan: Assignment, part: Part) -> Iterator[str]:
    """The pits a part is on and was on."""
    if part.id in plan.placed:
        yield plan.placed[part.id].mode.pit
    if part.kept is not None:
        yield part.kept.pit


def _apart(plan: Assignment, part: Part, other: Part, at: Placed) -> int:
    """Slots between two parts' cooks, a day more on a pit that the first was never on."""
    begin, end = cooking(other, at)
    gap = min(_between(begin, end, span) for span in _spans(plan, part))
    return gap + (0 if at.mode.pit in set(_homes(plan, part)) else _ELSEWHERE)


def _between(begin: int, end: int, span: Span) -> int:
    return max(0, begin - span[1], span[0] - end)


def _spans(plan: Assignment, part: Part) -> list[Span]:
    """When a part cooks, and was to cook; else the last hours in which it could."""
    longest = max((mode.d90 for mode in part.modes), default=0)
    at = plan.placed.get(part.id)
    spans = [cooking(part, at)] if at is not None else []
    if part.kept is not None:
        spans.append((part.kept.start, part.kept.start + part.load + longest))
    return spans or [(part.ready_by - longest, part.ready_by)]
