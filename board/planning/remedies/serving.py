"""Serving another load of the same item first, and this one when the other was to be served."""

from datetime import datetime, timedelta

from board.house.spans import minutes_between
from board.planning.remedies.chance import chance_by
from board.planning.remedies.remedy import Action, Cost, CostKind, Kind, LeftOut, Reason, Remedy
from board.planning.remedies.scene import Scene, Supply


def served_first(scene: Scene, nothing: Remedy) -> tuple[list[Remedy], list[LeftOut]]:
    """The loads of its item that are needed later and ready sooner, while this one may wait until then.

    The chance is that both are in time, each by its own luck: the other for this one's moment, this one
    for the other's.
    """
    others = [one for one in scene.supplies if one.due > scene.load.due and one.portions > 0]
    sooner = [one for one in others if one.ready.p50 < nothing.ready.p50]
    longest = timedelta(minutes=scene.load.cut.hold_longest_minutes)
    found = [_first(scene, one, nothing) for one in sooner if one.due - nothing.ready.p50 <= longest]
    if not found:
        why = Reason.TOO_LONG if sooner else Reason.NO_OTHER_LOAD
        return [], [LeftOut(Kind.OTHER_FIRST, why)]
    return found, []


def _first(scene: Scene, other: Supply, nothing: Remedy) -> Remedy:
    """The remedy that another load is."""
    wanted, due = scene.load.load.portions, scene.load.due
    costs = [Cost(CostKind.SWAPPED, load=other.load.id, minutes=_minutes_late(nothing, other.due))]
    if other.portions < wanted:
        costs.append(Cost(CostKind.FEWER, portions=other.portions, load=other.load.id))
    both = chance_by(other.ready, due, scene.now) * chance_by(nothing.ready, other.due, scene.now)
    return Remedy(Action(Kind.OTHER_FIRST, other=other.load.id), other.ready, both, tuple(costs))


def _minutes_late(nothing: Remedy, due: datetime) -> float:
    """How long after another's moment this load is likely ready; 0 in time."""
    return max(0.0, minutes_between(due, nothing.ready.p50))
