"""One load for several waves or services, where a plan with it costs less than one without."""

from dataclasses import replace

from board.planning.joining import GATHERINGS_MOST, Gathering
from board.planning.part_making import part_of
from board.planning.parts import shares_of
from board.planning.problem import Assignment, Part, Problem, points
from board.planning.search.insertion import cheapest_fit
from board.planning.search.tidy import occupied, tidy

# Each way that is tried lays all parts out: so many in all, so that a large house tries fewer.
_PARTS_LAID_MOST = 4_000


def gather(problem: Problem, plan: Assignment) -> tuple[Problem, Assignment]:
    """Gather needs, or part them again, as long as that makes the plan cheaper, the greatest saving first."""
    most = min(GATHERINGS_MOST, _PARTS_LAID_MOST // len(problem.parts)) if problem.parts else 0
    cost, ways = points(problem, plan), problem.gatherings[:most]
    savings = []
    for n, gathering in enumerate(ways):
        tried = _with(problem, plan, gathering)
        if tried is not None and points(*tried) < cost:
            savings.append((points(*tried), n))
    for _, n in sorted(savings):
        tried = _with(problem, plan, ways[n])
        if tried is not None and points(*tried) < points(problem, plan):
            problem, plan = tried
            problem = replace(problem, gatherings=(ways[n].back, *problem.gatherings))
    return problem, plan


def _with(problem: Problem, plan: Assignment, gathering: Gathering) -> tuple[Problem, Assignment] | None:
    """The plan with some needs gathered another way; None where it has others, or one would have no start."""
    gone = {id(need) for need in gathering.of}
    if not gone <= {id(need) for need in problem.needs}:
        return None
    pits = list(problem.frame.house.pits.values())
    shares = [share for need in gathering.instead for share in shares_of(need, pits)]
    new = tuple(part_of(problem.frame, share, f"{share.number}") for share in shares)
    if not all(any(mode.starts for mode in part.modes) for part in new):
        return None
    rest = tuple(part for part in problem.parts if id(part.need) not in gone)
    left = {part.id: plan.placed[part.id] for part in rest if part.id in plan.placed}
    hopeless = {key: why for key, why in problem.hopeless.items() if key in {part.id for part in rest}}
    others = replace(problem, parts=rest, hopeless=hopeless)
    return _placed(others, tidy(others, Assignment(left, plan.runs)), new)


def _placed(others: Problem, plan: Assignment, new: tuple[Part, ...]) -> tuple[Problem, Assignment]:
    whole = replace(others, parts=(*others.parts, *new))
    occupancy = occupied(whole, plan)
    for part in new:
        fit = cheapest_fit(occupancy, part)
        if fit is not None:
            occupancy.place(part, fit)
    return whole, tidy(whole, occupancy.assignment())
