"""What cannot be cooked whole is cooked in part: the most pieces that fit, then the most of the rest."""

from dataclasses import replace

from board.planning.part_making import part_of
from board.planning.parts import Share, split
from board.planning.problem import Assignment, Part, Problem
from board.planning.search.insertion import cheapest_fit
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.search.tidy import occupied


def squeeze(problem: Problem, plan: Assignment) -> tuple[Problem, Assignment]:
    """Place as many pieces as fit of each part left out; what is left over stays a part, unserved."""
    occupancy = occupied(problem, plan)
    bits: dict[str, list[Part]] = {}
    for part in problem.parts:
        if part.id not in plan.placed and part.id not in problem.hopeless:
            bits[part.id] = _placed_bit_by_bit(problem, occupancy, part)
    if occupancy.placed.keys() == plan.placed.keys():
        return problem, plan
    parts = tuple(bit for part in problem.parts for bit in bits.get(part.id, [part]))
    return replace(problem, parts=parts), occupancy.assignment()


def _placed_bit_by_bit(problem: Problem, occupancy: Occupancy, part: Part) -> list[Part]:
    """Place the most that fits, and again of what is left; the last bit may have found no place."""
    bits: list[Part] = []
    left: Part | None = part
    while left is not None:
        some, rest, fit = _most_that_fits(problem, occupancy, left, len(bits))
        bits.append(some)
        if fit is None:
            break
        occupancy.place(some, fit)
        left = rest
    return bits


def _most_that_fits(
    problem: Problem, occupancy: Occupancy, part: Part, number: int
) -> tuple[Part, Part | None, Fit | None]:
    """The part whole if it fits, else its most pieces that do, found by halving, and the rest."""
    whole = cheapest_fit(occupancy, part)
    best: tuple[Part, Part | None, Fit | None] = (part, None, whole)
    fits, too_many = (part.pieces, part.pieces + 1) if whole else (0, part.pieces)
    while too_many - fits > 1:
        pieces = (fits + too_many) // 2
        first, last = split(part.share, pieces)
        some = _bit(problem, part, first, number)
        fit = cheapest_fit(occupancy, some)
        if fit is None:
            too_many = pieces
        else:
            fits, best = pieces, (some, _bit(problem, part, last, number + 1), fit)
    return best


def _bit(problem: Problem, part: Part, share: Share, number: int) -> Part:
    return part_of(problem.frame, share, f"{part.share.number}-{number}")
