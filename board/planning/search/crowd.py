"""What to pack anew together: parts that find no room, with all that is on beside them."""

from random import Random

from board.planning.problem import Assignment, Part, Problem
from board.planning.search.freed import Freed, Hearth, hearths

# As many parts as packing still settles in a second or two.
CROWD_MOST = 72
# Parts left out that are packed together at most.
_LEFT_OUT_MOST = 12


def crowd(problem: Problem, plan: Assignment, random: Random) -> Freed | None:
    """Parts left out, one or all that could be on at once, with the fires of that time; none if none is."""
    left_out = [part for part in problem.parts if part.id not in plan.placed and _spans(part)]
    if not left_out:
        return None
    first = random.choice(left_out)
    parts = [first] if random.random() < 1 / 2 else _together(first, left_out, random)
    chosen = []
    for fire in _near(hearths(problem, plan), first, random):
        if fire.parts and len(parts) + len(fire.parts) <= CROWD_MOST:
            chosen.append(fire)
            parts += fire.parts
    return Freed(tuple(parts), frozenset(fire.pit for fire in chosen), tuple(chosen), packed=True)


def _near(fires: list[Hearth], first: Part, random: Random) -> list[Hearth]:
    """Fires that burn when a part could be on, those that could cook it first."""
    begin, end = min(b for b, _ in _spans(first)), max(e for _, e in _spans(first))
    pits = {mode.pit for mode in first.modes if mode.starts}
    near = [fire for fire in fires if fire.begin < end and begin < fire.end]
    random.shuffle(near)
    return sorted(near, key=lambda fire: fire.pit not in pits)


def _together(first: Part, left_out: list[Part], random: Random) -> list[Part]:
    """A part left out and others that could be on when it is."""
    begin, end = min(b for b, _ in _spans(first)), max(e for _, e in _spans(first))
    others = [p for p in left_out if p is not first and any(b < end and begin < e for b, e in _spans(p))]
    return [first, *random.sample(others, min(len(others), _LEFT_OUT_MOST - 1))]


def _spans(part: Part) -> list[tuple[int, int]]:
    """From the first moment it could be on, to the last, for each way to cook it."""
    return [(mode.starts[0], mode.starts[-1] + part.load + mode.d90) for mode in part.modes if mode.starts]
