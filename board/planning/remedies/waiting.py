"""Where a load that is early can wait: a hot hold with room, or a closed box that keeps it hot."""

from dataclasses import replace
from datetime import timedelta

from board.cooking.cook import Rest
from board.cooking.resting import core_after_rest
from board.house.model import Hold
from board.house.spans import minutes_between
from board.planning.area import cm2_needed, cm2_within
from board.planning.remedies.remedy import Action, Cost, CostKind, Kind, LeftOut, Reason, Remedy
from board.planning.remedies.safe import is_hot
from board.planning.remedies.scene import Scene
from board.safety.limits import hot_hold_least_c

Waits = tuple[list[Remedy], list[LeftOut]]


def held(scene: Scene, nothing: Remedy) -> Waits:
    """Each hot hold with room for it until it is due, no longer than its cut is held."""
    place = scene.house.jurisdiction
    hot = [hold for hold in scene.house.holds.values() if is_hot(hold, place)]
    if not hot or scene.load.cook.until_core_c < hot_hold_least_c(place=place):
        return [], [LeftOut(Kind.HOLD, Reason.NO_HOT_HOLD)]
    minutes = minutes_between(nothing.ready.p50, scene.load.due)
    if minutes > scene.load.cut.hold_longest_minutes:
        return [], [LeftOut(Kind.HOLD, Reason.TOO_LONG)]
    room = [hold for hold in hot if _has_room(scene, hold, nothing)]
    if not room:
        return [], [LeftOut(Kind.HOLD, Reason.NO_ROOM, hot[0].id)]
    planned = scene.load.load.hold
    first = next((hold for hold in room if hold.id == planned), room[0])
    action = Action(Kind.HOLD, hold=first.id, setpoint_c=first.setpoint_c)
    return [replace(nothing, action=action, costs=(Cost(CostKind.HELD, minutes),))], []


def boxed(scene: Scene, nothing: Remedy, *, members: int, seed: int) -> Waits:
    """Closed in an insulated box from its pull until it is due, if its core stays hot that long.

    A load pulled as soon as 1 time in 10 waits longest, and must be hot still.
    """
    load = scene.load
    pull, soonest = (
        at - timedelta(minutes=load.after_minutes) for at in (nothing.ready.p50, nothing.ready.p10)
    )
    minutes, longest = minutes_between(pull, load.due), minutes_between(soonest, load.due)
    if longest > load.cut.hold_longest_minutes + load.after_minutes:
        return [], [LeftOut(Kind.BOX, Reason.TOO_LONG)]
    core = core_after_rest(replace(load.cook, rest=Rest("cooler", longest)), members=members, seed=seed)
    least_c = hot_hold_least_c(place=scene.house.jurisdiction)
    if core is None or core.p10 < least_c:
        return [], [LeftOut(Kind.BOX, Reason.CORE_TOO_COOL)]
    action = Action(Kind.BOX, core_c=core.p10)
    costs = (Cost(CostKind.HELD, minutes), Cost(CostKind.PROBE, celsius=least_c))
    return [replace(nothing, action=action, costs=costs)], []


def _has_room(scene: Scene, hold: Hold, nothing: Remedy) -> bool:
    """Whether it fits beside all that a hold has, from its ready time until it is due."""
    begin, end = nothing.ready.p50, scene.load.due
    stays = [one for one in scene.held if one.hold == hold.id and one.begin < end and one.end > begin]
    moments = [begin, *(one.begin for one in stays if one.begin > begin)]
    fullest = max(
        sum(cm2_needed(one.area_m2) for one in stays if one.begin <= moment < one.end) for moment in moments
    )
    return fullest + cm2_needed(scene.load.load.area_m2) <= cm2_within(hold.area_m2)
