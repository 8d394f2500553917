"""Which few fires and parts of a plan to set free next: near each other in time, service or cut."""

from collections.abc import Callable
from random import Random

from board.planning.problem import Assignment, Part, Problem
from board.planning.search.freed import Freed, Hearth, hearths

# As many parts as the exact search still settles in a second or two (design/planning.md: 16 beat 9 and 26).
PARTS_MOST = 16
FIRES_MOST = 4
_UNSERVED_MOST = 4

# How near a fire is to the first one chosen; the nearest are freed with it.
Nearness = Callable[[Hearth, Hearth], float]


def neighbourhood(problem: Problem, plan: Assignment, random: Random) -> Freed | None:
    """A few fires with their parts, a cold pit, and parts left out; none where nothing can move."""
    fires = [fire for fire in hearths(problem, plan) if fire.parts]
    left_out = [p for p in problem.parts if p.id not in plan.placed and any(m.starts for m in p.modes)]
    if not fires and not left_out:
        return None
    chosen = _near(fires, left_out, random)
    parts = [part for fire in chosen for part in fire.parts]
    if len(parts) > PARTS_MOST:
        parts = sorted(random.sample(parts, PARTS_MOST), key=lambda part: part.id)
        chosen = [fire for fire in chosen if all(part in parts for part in fire.parts)]
    parts += random.sample(left_out, min(len(left_out), _UNSERVED_MOST))
    pits = {plan.placed[part.id].mode.pit for part in parts if part.id in plan.placed}
    pits |= _colder(parts, pits, random)
    return Freed(tuple(parts), frozenset(pits), tuple(chosen))


def _near(fires: list[Hearth], left_out: list[Part], random: Random) -> list[Hearth]:
    """A fire drawn at random and the nearest to it, in one of several senses."""
    if not fires:
        return []
    first = random.choice(fires)
    nearness = random.choice((_overlap, _overlap, _services, _cuts))
    tie = {id(fire): random.random() for fire in fires}
    others = sorted((f for f in fires if f is not first), key=lambda f: (-nearness(first, f), tie[id(f)]))
    chosen, count = [first], len(first.parts) + min(len(left_out), _UNSERVED_MOST)
    for fire in others:
        if len(chosen) < FIRES_MOST and count + len(fire.parts) <= PARTS_MOST:
            chosen.append(fire)
            count += len(fire.parts)
    return chosen


def _overlap(a: Hearth, b: Hearth) -> float:
    """Near in time: how coarsely both burn together, so that chance breaks the ties."""
    both = min(a.end, b.end) - max(a.begin, b.begin)
    return float(both > 0)


def _services(a: Hearth, b: Hearth) -> float:
    """Near in what they serve."""
    of_a = {service for part in a.parts for service in part.services}
    return float(sum(service in of_a for part in b.parts for service in part.services) > 0)


def _cuts(a: Hearth, b: Hearth) -> float:
    """Near in what they cook, burning within a day of each other."""
    of_a = {part.need.cut.id for part in a.parts}
    return float(any(part.need.cut.id in of_a for part in b.parts))


def _colder(parts: list[Part], pits: set[str], random: Random) -> set[str]:
    """Another pit that takes some of the parts, if there is one."""
    others = sorted({m.pit for part in parts for m in part.modes if m.starts and m.pit not in pits})
    return {random.choice(others)} if others else set()
