"""Which few fires and parts of a plan to set free next: near each other in time, service or cut."""

from collections.abc import Callable, Set
from random import Random

from board.planning.problem import Assignment, Part, Problem
from board.planning.search.freed import Freed, Hearth, hearths

# As many parts as the exact search still settles in a second or two (design/planning.md: 16 beat 9 and 26).
PARTS_MOST = 16
FIRES_MOST = 4
_UNSERVED_MOST = 4

# How near a fire is to the first one chosen; the nearest are freed with it.
Nearness = Callable[[Hearth, Hearth], float]


def neighbourhood(
    problem: Problem, plan: Assignment, random: Random, beside: Freed | None = None
) -> Freed | None:
    """A few fires with their parts, a cold pit, and parts left out; none where nothing can move.

    Args:
        beside: free nothing of these parts and pits.
    """
    away = beside.pits if beside else frozenset()
    gone = {part.id for part in beside.parts} if beside else set()
    fires = [fire for fire in hearths(problem, plan) if fire.parts and fire.pit not in away]
    left_out = [
        part
        for part in problem.parts
        if part.id not in plan.placed and part.id not in gone and _elsewhere(part, away)
    ]
    if not fires and not left_out:
        return None
    chosen = _near(fires, left_out, random)
    parts = [part for fire in chosen for part in fire.parts]
    if len(parts) > PARTS_MOST:
        parts = sorted(random.sample(parts, PARTS_MOST), key=lambda part: part.id)
        chosen = [fire for fire in chosen if all(part in parts for part in fire.parts)]
    parts += random.sample(left_out, min(len(left_out), _UNSERVED_MOST))
    pits = {plan.placed[part.id].mode.pit for part in parts if part.id in plan.placed}
    pits |= _colder(parts, pits | away, random)
    return Freed(tuple(parts), frozenset(pits), tuple(chosen))


def _elsewhere(part: Part, away: frozenset[str]) -> bool:
    return any(mode.starts and mode.pit not in away for mode in part.modes)


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
    """Near in time: whether both burn at once."""
    both = min(a.end, b.end) - max(a.begin, b.begin)
    return float(both > 0)


def _services(a: Hearth, b: Hearth) -> float:
    """Near in whom they serve."""
    of_a = {service for part in a.parts for service in part.services}
    return float(sum(service in of_a for part in b.parts for service in part.services) > 0)


def _cuts(a: Hearth, b: Hearth) -> float:
    """Near in what they cook."""
    of_a = {part.need.cut.id for part in a.parts}
    return float(any(part.need.cut.id in of_a for part in b.parts))


def _colder(parts: list[Part], pits: Set[str], random: Random) -> set[str]:
    """Another pit that takes some of the parts, if there is one."""
    others = sorted({m.pit for part in parts for m in part.modes if m.starts and m.pit not in pits})
    return {random.choice(others)} if others else set()
