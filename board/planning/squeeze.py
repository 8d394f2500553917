"""What cannot be cooked whole is cooked in part: the most pieces that still fit."""

from dataclasses import replace

from board.planning.insertion import cheapest_fit
from board.planning.problem import Assignment, Part, Problem
from board.planning.tidy import occupied


def squeeze(problem: Problem, plan: Assignment) -> tuple[Problem, Assignment]:
    """Place as many pieces as fit of each part left out; the rest stays a part of its own, unserved."""
    for part in problem.parts:
        if part.id in plan.placed or part.pieces < 2 or part.id in problem.hopeless:
            continue
        occupancy = occupied(problem, plan)
        for pieces in range(part.pieces - 1, 0, -1):
            some, rest = split(part, pieces)
            fit = cheapest_fit(occupancy, some)
            if fit is not None:
                occupancy.place(some, fit)
                plan = occupancy.assignment()
                parts = tuple(q for p in problem.parts for q in ((some, rest) if p is part else (p,)))
                problem = replace(problem, parts=parts)
                break
    return problem, plan


def split(part: Part, pieces: int) -> tuple[Part, Part]:
    """A part as its first pieces and the rest; portions, promised ones and room in proportion."""
    share = pieces / part.pieces
    portions, area = int(part.portions * share), int(part.area_cm2 * share + 0.999)
    due = min(portions, part.due)
    worth = part.worth * due / max(part.due, 1)
    some = replace(part, pieces=pieces, portions=portions, due=due, worth=worth, area_cm2=area)
    rest = replace(
        part,
        id=f"{part.id}-rest",
        pieces=part.pieces - pieces,
        portions=part.portions - portions,
        due=part.due - due,
        worth=part.worth - worth,
        area_cm2=part.area_cm2 - area,
    )
    return some, rest
