"""The problem of a day that has a committed plan: cut as it is cut, each part told its place there."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from board.house.model import House
from board.planning.demand import Need
from board.planning.plan import Plan
from board.planning.problem import Problem, points
from board.planning.replan.keeping import seated, with_kept
from board.planning.replan.outline import Outline, Wishes, outline
from board.planning.replan.pin import Pin
from board.planning.standing import Standing
from board.planning.weights import Weights


@dataclass(frozen=True)
class Again:
    """What is planned again: what is still needed, the committed plan, what stands of it, pins."""

    house: House
    needs: Sequence[Need]
    committed: Plan
    own: Standing
    pins: tuple[Pin, ...]


def again(built: Callable[..., Problem], asked: Again, weights: Weights) -> Problem:
    """The problem from the committed plan's places.

    More pieces join a committed load where they fit beside it and all others have their places; else that,
    or a load of their own, whichever costs less.

    Args:
        built: makes the problem of some needs, cut into shares, with more setpoints offered.

    Raises:
        PlanError: for a pin that breaks a rule.
    """
    fixed = {pin.load: pin.pieces for pin in asked.pins}
    own = asked.own
    wishes = Wishes(asked.house, weights.enough_chance, own.loads, own.batches, fixed)
    joined = outline(asked.needs, asked.committed, wishes)
    problem = _problem(built, asked, joined)
    if not _grown(joined):
        return problem
    begun = seated(problem)
    if not begun.displaced_loads(problem):
        return problem
    apart = _problem(built, asked, outline(asked.needs, asked.committed, replace(wishes, grow=False)))
    return min((problem, begun.plan), (apart, seated(apart).plan), key=lambda way: points(*way))[0]


def _problem(built: Callable[..., Problem], asked: Again, cut: Outline) -> Problem:
    also = dict(cut.setpoints)
    for pin in asked.pins:
        if pin.setpoint_c is not None:
            also[pin.pit] = (*also.get(pin.pit, ()), pin.setpoint_c)
    return with_kept(built(asked.needs, shares=cut.shares, also=also), cut, asked.pins)


def _grown(cut: Outline) -> bool:
    cuts = zip(cut.shares, cut.loads, strict=True)
    return any(load is not None and share.pieces > load.pieces for share, load in cuts)
