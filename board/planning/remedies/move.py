"""Another pit: which are hotter, lit or soon lit, with room, and may have this meat on them."""

from datetime import datetime, timedelta

from board.cooking.learning.learn import learn
from board.house.calendar import occurrences
from board.house.model import Pit, Zone
from board.planning.area import cm2_needed, cm2_within
from board.planning.modes import places, warmer_k
from board.planning.remedies import altered
from board.planning.remedies.candidate import Candidate, Found, hands, nothing, whole_degrees_within
from board.planning.remedies.numbers import judgement
from board.planning.remedies.remedy import Action, Cost, CostKind, Kind, LeftOut, Reason
from board.planning.remedies.safe import may_share, takes
from board.planning.remedies.scene import Scene


def moved(scene: Scene, until: datetime) -> Found:
    """Each other pit it could be carried to, with its room until a moment; the warmest first."""
    if scene.load.has_moved:
        return [], [LeftOut(Kind.MOVE, Reason.MOVED_ONCE)]
    found: list[Candidate] = []
    left: list[LeftOut] = []
    for pit in scene.house.pits.values():
        if pit.id != scene.load.pit and takes(pit, scene.load.cut):
            tried = [_to(scene, pit, zone, until) for zone in places(pit)]
            found += (fits := [one for one in tried if isinstance(one, Candidate)])
            why = [one for one in tried if isinstance(one, Reason)]
            left += [] if fits else [LeftOut(Kind.MOVE, why[-1], pit.id)]
    found.sort(key=lambda one: (-(one.action.setpoint_c or 0.0), one.action.pit, one.action.zone or ""))
    return found, left if found or left else [LeftOut(Kind.MOVE, Reason.NO_HOTTER_PIT)]


def _to(scene: Scene, pit: Pit, zone: Zone | None, until: datetime) -> Candidate | Reason:
    """The move to one pit, or a zone of it, or why not."""
    setpoint_c, here_c = _setpoint(scene, pit, zone, until), scene.setpoint_c + scene.load.warmer_k
    if isinstance(setpoint_c, Reason):
        return setpoint_c
    if setpoint_c + warmer_k(zone) <= here_c + judgement().same_setpoint_k:
        return Reason.NO_HOTTER_PIT
    if any(occurrences(out, scene.house.zone, scene.now, until) for out in pit.out_of_use):
        return Reason.OUT_OF_USE
    there = [one.cut for one in scene.sharing(pit.id)]
    there += [scene.house.cuts[one.cut] for one in scene.coming_to(pit.id, until)]
    if not may_share(scene.load.cut, there):
        return Reason.RAW_POULTRY
    if not _has_room(scene, pit, zone, until):
        return Reason.NO_ROOM
    return _candidate(scene, pit, zone, setpoint_c)


def _setpoint(scene: Scene, pit: Pit, zone: Zone | None, until: datetime) -> float | Reason:
    """What it burns or would burn at; why not where that changes meanwhile or is not for this cut there."""
    burns = (scene.lit or {}).get(pit.id)
    coming = scene.coming_to(pit.id, until)
    asked = {load.setpoint_c for load in coming}
    asked |= {load.then_c for load in coming if load.then_c is not None}
    asked |= {one.then_c for one in scene.sharing(pit.id) if one.then_c is not None}
    if burns is not None:
        asked.add(burns)
    if asked and max(asked) - min(asked) > judgement().same_setpoint_k:
        return Reason.SET_OTHERWISE
    most = min(pit.setpoint_c[1], scene.load.cut.pit_c.high - warmer_k(zone))
    setpoint_c = max(asked) if asked else whole_degrees_within(most, scene.house.display)
    if setpoint_c > most or pit.setpoint_c[0] > most:
        return Reason.TOO_HOT
    return setpoint_c if setpoint_c >= pit.setpoint_c[0] else Reason.NO_HOTTER_PIT


def _has_room(scene: Scene, pit: Pit, zone: Zone | None, until: datetime) -> bool:
    """Whether its pieces fit beside all that stands there or comes, to a moment.

    A load whose zone is not known may lie in any.
    """
    overdue = timedelta(minutes=judgement().overdue_minutes)
    mine = (None,) if zone is None else (None, zone.id)
    stays = [
        (scene.now, one.pull.p90, one.load.area_m2)
        for one in scene.sharing(pit.id)
        if zone is None or one.zone in mine
    ]
    for one in scene.coming_to(pit.id, until):
        late = max(timedelta(0), scene.now - one.load_at)
        if zone is None or one.zone in mine:
            stays.append((one.load_at + late, one.pull_at.p90 + late, one.area_m2))
    moments = [scene.now, *(begin for begin, _, _ in stays)]
    fullest = max(
        sum(cm2_needed(area) for begin, end, area in stays if begin <= moment < max(end, begin + overdue))
        for moment in moments
    )
    room = cm2_within(pit.area_m2 if zone is None else zone.area_m2)
    return fullest + cm2_needed(scene.load.load.area_m2) <= room


def _candidate(scene: Scene, pit: Pit, zone: Zone | None, setpoint_c: float) -> Candidate:
    load, base = scene.load, nothing(scene)
    pieces, cut = load.load.pieces, load.cut
    is_unlit = pit.id not in (scene.lit or {})
    work = cut.pull_work.minutes(pieces) + cut.load_work.minutes(pieces)
    wait = pit.light_work.minutes(1) + pit.warm_up_minutes if is_unlit else 0.0
    air_c = setpoint_c + warmer_k(zone)
    hotter_k = air_c - scene.setpoint_c - load.warmer_k
    costs = [hands(work), Cost(CostKind.DRIER, celsius=hotter_k)]
    costs += [Cost(CostKind.FIRE, wait)] if is_unlit else []
    air = learn(scene.house).air(pit, cut.id)
    cook = altered.moved_to(load.cook, scene.elapsed + wait + work, air, air_c)
    zone_id = None if zone is None else zone.id
    action = Action(Kind.MOVE, pit.id, setpoint_c, is_unlit=is_unlit, zone=zone_id)
    return Candidate(action, cook, base.after_minutes, tuple(costs))
