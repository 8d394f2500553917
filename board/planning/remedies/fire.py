"""Another setpoint: how far a pit may be raised or lowered with all that is on it, and what that costs."""

from collections.abc import Iterator, Mapping
from datetime import datetime

from board.planning.modes import warmer_k
from board.planning.plan import PlannedLoad
from board.planning.remedies import altered
from board.planning.remedies.candidate import Candidate, Found, nothing, whole_degrees_within
from board.planning.remedies.numbers import judgement
from board.planning.remedies.remedy import Action, Cost, CostKind, Kind, LeftOut, Reason
from board.planning.remedies.safe import is_past_danger
from board.planning.remedies.scene import Scene


def raised(scene: Scene, until: datetime) -> Found:
    """Its own pit hotter, as far as the pit and every cut on it allow until a moment."""
    pit, load = scene.house.pits[scene.load.pit], scene.load
    most, stops = min(pit.setpoint_c[1], load.cut.pit_c.high - load.warmer_k), ""
    for key, high_c in _sharing(scene, until):
        if high_c < most:
            most, stops = high_c, key
    most = whole_degrees_within(most, scene.house.display)
    if most < scene.setpoint_c + judgement().least_change_k:
        reason = Reason.OTHERS_CANNOT if stops else Reason.AT_ITS_HIGHEST
        return [], [LeftOut(Kind.RAISE, reason, stops or load.pit)]
    return [_set(scene, Kind.RAISE, c, until) for c in _steps(scene, most)], []


def lowered(scene: Scene, until: datetime) -> Found:
    """Its own pit cooler, only when every core on it is past the range in which germs grow."""
    pit, load = scene.house.pits[scene.load.pit], scene.load
    sharing = scene.sharing(load.pit)
    place = scene.house.jurisdiction
    if cool := next((one.key for one in (load, *sharing) if not is_past_danger(one.core_c, place)), None):
        return [], [LeftOut(Kind.LOWER, Reason.CORE_TOO_COOL, cool)]
    if coming := scene.coming_to(load.pit, until):
        return [], [LeftOut(Kind.LOWER, Reason.OTHERS_CANNOT, coming[0].id)]
    lows = (one.cut.pit_c.low - one.warmer_k for one in (load, *sharing))
    least = whole_degrees_within(max(pit.setpoint_c[0], *lows), scene.house.display, down=False)
    if least > scene.setpoint_c - judgement().least_change_k:
        return [], [LeftOut(Kind.LOWER, Reason.AT_ITS_LEAST, load.pit)]
    return [_set(scene, Kind.LOWER, c, until) for c in _steps(scene, least)], []


def others_shifted(
    scene: Scene, kind: Kind, sooner: Mapping[str, float]
) -> tuple[list[Cost], LeftOut | None]:
    """What another setpoint does to the loads beside: so many minutes sooner (negative: later) by load.

    Those sooner must not wait past what their cut can be held, those later must still be in time.
    """
    costs, least_shift = [], judgement().least_shift_minutes
    for one in scene.sharing(scene.load.pit):
        by = sooner.get(one.key, 0.0)
        done = one.minutes(one.pull.p50) - by + one.after_minutes
        wait = one.minutes(one.due) - done
        least_spare = one.minutes(one.due) - (one.minutes(one.pull.p90) - by + one.after_minutes)
        if by >= least_shift and wait > one.cut.hold_longest_minutes:
            return [], LeftOut(kind, Reason.OTHER_OVERHELD, one.key)
        if by < 0 and least_spare < 0:
            return [], LeftOut(kind, Reason.OTHERS_LATE, one.key)
        if abs(by) >= least_shift:
            which = CostKind.OTHER_EARLIER if by > 0 else CostKind.OTHER_LATER
            costs.append(Cost(which, abs(by), load=one.key))
    return costs, None


def _set(scene: Scene, kind: Kind, setpoint_c: float, until: datetime) -> Candidate:
    load, base = scene.load, nothing(scene)
    costs = [Cost(CostKind.DRIER, celsius=setpoint_c - scene.setpoint_c)] if kind is Kind.RAISE else []
    cook = altered.set_to(load.cook, scene.elapsed, scene.setpoint_c, setpoint_c)
    coming = _asks_other(scene, setpoint_c, until)
    comes = None if coming is None else load.minutes(max(coming.load_at, scene.now))
    turn, then_c = load.turn_minute, load.then_c
    if turn is not None and then_c is not None and (comes is None or turn <= comes):
        if abs(then_c - setpoint_c) >= judgement().least_change_k:
            costs.append(Cost(CostKind.BACK, load=load.key, celsius=then_c))
        cook = altered.set_to(cook, turn, setpoint_c, scene.setpoint_c)
    elif coming is not None and comes is not None:
        costs.append(Cost(CostKind.BACK, load=coming.id, celsius=coming.setpoint_c))
        cook = altered.set_to(cook, comes, setpoint_c, scene.setpoint_c)
    return Candidate(Action(kind, load.pit, setpoint_c), cook, base.after_minutes, tuple(costs))


def _asks_other(scene: Scene, setpoint_c: float, until: datetime) -> PlannedLoad | None:
    """The first load to come that asks the pit for another setpoint."""
    coming, least_k = scene.coming_to(scene.load.pit, until), judgement().least_change_k
    others = [one for one in coming if abs(one.setpoint_c - setpoint_c) >= least_k]
    return min(others, key=lambda one: one.load_at, default=None)


def _sharing(scene: Scene, until: datetime) -> Iterator[tuple[str, float]]:
    """The highest setpoint of the pit that what shares it with the load stands where it lies, by its load."""
    yield from ((one.key, one.cut.pit_c.high - one.warmer_k) for one in scene.sharing(scene.load.pit))
    yield from (
        (load.id, scene.house.cuts[load.cut].pit_c.high - _warmer_k(scene, load))
        for load in scene.coming_to(scene.load.pit, until)
        if load.cut in scene.house.cuts
    )


def _warmer_k(scene: Scene, load: PlannedLoad) -> float:
    """How much hotter than its pit it is where a load is planned to lie."""
    return warmer_k(next((one for one in scene.house.pits[load.pit].zones if one.id == load.zone), None))


def _steps(scene: Scene, furthest_c: float) -> list[float]:
    """The whole way, and half of it where that is far."""
    now = scene.setpoint_c
    if abs(furthest_c - now) < judgement().halfway_from_k:
        return [furthest_c]
    half = whole_degrees_within((now + furthest_c) / 2, scene.house.display, down=furthest_c > now)
    return [furthest_c, half]
