"""What may lie above what on one pit: raw birds drip on nothing that is not cooked as far as they are.

FDA Food Code 2022, 3-302.11(A): raw animal foods are kept from ready food, and by kind from each other.
Poultry is cooked hottest, so it lies lowest. The local code decides.
"""

from board.planning.birds import is_bird
from board.planning.problem import Part, Placed, Problem, Spot, cooking
from board.planning.standing import Stay


def drips(a: Part, spot_a: Spot, b: Part, spot_b: Spot) -> bool:
    """Whether one of two parts is a bird above other meat on the same pit."""
    if spot_a.pit != spot_b.pit or spot_a.level == spot_b.level:
        return False
    upper, lower = (a, b) if spot_a.level > spot_b.level else (b, a)
    return is_bird(upper.need.cut) and not is_bird(lower.need.cut)


def drips_beside(problem: Problem, part: Part, at: Placed) -> bool:
    """Whether a part at a place would lie above or below standing meat it must not lie with."""
    begin, end = cooking(part, at)
    return any(begin < last and first < end for first, last, _ in apart_from(problem, part, at.mode.spot))


def apart_from(problem: Problem, part: Part, spot: str) -> list[Stay]:
    """When standing meat lies above or below a spot that this part must not lie with."""
    frame, bird = problem.frame, is_bird(part.need.cut)
    here = frame.spots[spot]
    found: list[Stay] = []
    for spot_id, stays in (frame.taken.others if bird else frame.taken.birds).items():
        there = frame.spots[spot_id]
        above = here.level > there.level if bird else there.level > here.level
        if there.pit == here.pit and above:
            found += stays
    return found
