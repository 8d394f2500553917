"""What may lie together on a spot where all together is so full that hardly any room may be lost."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from board.planning.problem import Problem, cooking
from board.planning.search.places import Place
from board.planning.standing import left_over

# So many fillings of a spot at most, and so many steps to find them.
_FILLINGS_MOST = 400
_STEPS_MOST = 200_000

Filling = tuple[int, ...]


@dataclass(frozen=True)
class Crowd:
    """Parts, by number, all on at one slot wherever they go; how each spot may be filled with them."""

    parts: tuple[int, ...]
    ways: Mapping[str, Sequence[Filling]]


def crowd_of(problem: Problem, where: Sequence[Place]) -> Crowd | None:
    """The crowd that leaves the least room on all spots together, if they have room for it.

    If all are served no spot loses more room than all do, which leaves few fillings of each; none where those
    are too many to be a help.
    """
    crowds = [(lost, slot, parts) for lost, slot, parts in _crowds(problem, where) if lost >= 0]
    if not crowds:
        return None
    lost, slot, parts = min(crowds)
    rooms = _rooms(problem, where, slot)
    here = {s: sorted({p.part for p in where if p.at.mode.spot == s} & set(parts)) for s in rooms}
    ways = _ways(problem, here, rooms, lost)
    return None if ways is None else Crowd(parts, ways)


def _ways(
    problem: Problem, here: Mapping[str, list[int]], rooms: Mapping[str, int], lost: int
) -> dict[str, list[Filling]] | None:
    """How each spot may be filled with the parts it takes, losing no more than this; none if too many."""
    known: dict[tuple[int, Filling], list[Filling] | None] = {}
    ways: dict[str, list[Filling]] = {}
    for spot, parts in here.items():
        key = rooms[spot], tuple(parts)
        if key not in known:
            known[key] = fillings([problem.parts[i].area_cm2 for i in parts], rooms[spot], lost)
        found = known[key]
        if found is None:
            return None
        ways[spot] = [tuple(parts[n] for n in way) for way in found]
    return ways


def _crowds(problem: Problem, where: Sequence[Place]) -> Iterator[tuple[int, int, Filling]]:
    """Parts all on at one slot wherever they go, after the room that they leave there and the slot."""
    spans: dict[int, tuple[int, int]] = {}
    for place in where:
        begin, end = cooking(problem.parts[place.part], place.at)
        first, last = spans.get(place.part, (begin, end))
        spans[place.part] = max(first, begin), min(last, end)
    for slot in sorted({begin for begin, _ in spans.values()}):
        parts = tuple(sorted(i for i, (begin, end) in spans.items() if begin <= slot < end))
        if parts:
            room = sum(_rooms(problem, where, slot).values())
            yield room - sum(problem.parts[i].area_cm2 for i in parts), slot, parts


def _rooms(problem: Problem, where: Sequence[Place], slot: int) -> dict[str, int]:
    """Room left at a slot on each spot that anything could be on then."""
    frame, found = problem.frame, {}
    for place in where:
        spot = place.at.mode.spot
        begin, end = cooking(problem.parts[place.part], place.at)
        if spot not in found and begin <= slot < end:
            left = left_over(frame.spots[spot].area_cm2, frame.grid.slots, frame.taken.cooking[spot])
            found[spot] = int(left[slot])
    return found


def fillings(areas: Sequence[int], room: int, lost_most: int) -> list[tuple[int, ...]] | None:
    """All sets of these areas, by number, that fit a room and leave at most so much of it; None if too many.

    A column each in the cutting-stock program of Gilmore and Gomory (1961, Operations Research 9:849, from
    memory).
    """
    order = sorted(range(len(areas)), key=lambda i: -areas[i])
    after = [0] * (len(areas) + 1)
    for k in range(len(order) - 1, -1, -1):
        after[k] = after[k + 1] + areas[order[k]]
    found: list[Filling] = []
    steps = 0
    stack: list[tuple[int, int, Filling]] = [(0, room, ())]
    while stack:
        k, left, chosen = stack.pop()
        steps += 1
        if left <= lost_most:
            found.append(chosen)
        if len(found) > _FILLINGS_MOST or steps > _STEPS_MOST:
            return None
        for j in range(k, len(order)):
            if left - after[j] > lost_most:
                break
            if areas[order[j]] <= left:
                stack.append((j + 1, left - areas[order[j]], (*chosen, order[j])))
    return found
