"""What cannot be cooked whole is cooked in part: the most pieces that still fit."""

from dataclasses import replace

from board.planning.build import part_of
from board.planning.insertion import cheapest_fit
from board.planning.parts import split
from board.planning.problem import Assignment, Part, Problem
from board.planning.tidy import occupied


def squeeze(problem: Problem, plan: Assignment) -> tuple[Problem, Assignment]:
    """Place as many pieces as fit of each part left out; the rest stays a part of its own, unserved."""
    for part in problem.parts:
        if part.id not in plan.placed and part.pieces > 1 and part.id not in problem.hopeless:
            problem, plan = _squeezed(problem, plan, part)
    return problem, plan


def _squeezed(problem: Problem, plan: Assignment, part: Part) -> tuple[Problem, Assignment]:
    """Halve the way between what fits and what does not until the most pieces are found."""
    fits, too_many = 0, part.pieces
    best = problem, plan
    while too_many - fits > 1:
        pieces = (fits + too_many) // 2
        some, left = (
            part_of(problem.frame, share, f"{part.share.number}-{name}")
            for share, name in zip(split(part.share, pieces), ("some", "rest"), strict=True)
        )
        occupancy = occupied(problem, plan)
        fit = cheapest_fit(occupancy, some)
        if fit is None:
            too_many = pieces
            continue
        fits = pieces
        occupancy.place(some, fit)
        parts = tuple(q for p in problem.parts for q in ((some, left) if p is part else (p,)))
        best = replace(problem, parts=parts), occupancy.assignment()
    return best
