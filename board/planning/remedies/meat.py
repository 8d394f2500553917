"""What is done to the meat itself: a wrap now, an earlier pull, a shorter rest."""

from dataclasses import replace

from board.planning.remedies import altered
from board.planning.remedies.candidate import Candidate, Found, hands, nothing, whole_degree
from board.planning.remedies.numbers import judgement
from board.planning.remedies.remedy import Action, Cost, CostKind, Kind, LeftOut, Reason
from board.planning.remedies.safe import least_pull_c, minutes_at
from board.planning.remedies.scene import Scene


def wrapped(scene: Scene) -> Found:
    """Wrapped now in what the house wraps this cut with."""
    load, cut = scene.load, scene.load.cut
    if load.is_wrapped:
        return [], [LeftOut(Kind.WRAP, Reason.ALREADY_WRAPPED)]
    if cut.wrap is None or load.cook.wrap is None:
        return [], [LeftOut(Kind.WRAP, Reason.NEVER_WRAPPED, cut.id)]
    if load.core_c is None:
        return [], [LeftOut(Kind.WRAP, Reason.CORE_UNKNOWN)]
    way = (load.core_c - cut.start_c) / (cut.wrap.at_core_c - cut.start_c)
    if way < judgement().bark_from:
        return [], [LeftOut(Kind.WRAP, Reason.TOO_SOON, cut.id)]
    work = cut.wrap.work.minutes(load.load.pieces)
    cook = altered.wrapped_at(load.cook, scene.elapsed + work)
    found = Candidate(Action(Kind.WRAP, load.pit), cook, nothing(scene).after_minutes, (hands(work),))
    is_early = way < 1.0
    return [found.costing(Cost(CostKind.SOFTER_BARK, celsius=load.core_c)) if is_early else found], []


def also_wrapped(scene: Scene, raised: Candidate, wrap: Candidate) -> Candidate:
    """Raised and wrapped together."""
    work = next(cost.minutes for cost in wrap.costs if cost.kind is CostKind.HANDS)
    return replace(
        raised,
        action=replace(raised.action, kind=Kind.RAISE_AND_WRAP),
        cook=altered.wrapped_at(raised.cook, scene.elapsed + work),
        costs=(*raised.costs, *wrap.costs),
    )


def pulled_lower(scene: Scene) -> Found:
    """Pulled at the low end of its range, no lower than is safe, and kept there as long as that asks."""
    load, cut, least = scene.load, scene.load.cut, judgement()
    usual_c, safe_c = load.cook.until_core_c, least_pull_c(scene.house, cut)
    if cut.pull_least_c is None or cut.pull_least_c > usual_c - least.least_lower_k:
        return [], [LeftOut(Kind.PULL_LOWER, Reason.AT_ITS_LEAST)]
    core_c = max(cut.pull_least_c, safe_c)
    wait = _minutes_at(scene, min(core_c, whole_degree(core_c, scene.house.display)))
    if wait is None or core_c > usual_c - least.least_lower_k:
        return [], [LeftOut(Kind.PULL_LOWER, Reason.NOT_SAFE)]
    costs = [Cost(CostKind.FIRMER, celsius=core_c - usual_c)]
    costs += [Cost(CostKind.WAIT_AT_CORE, wait)] if wait >= 1.0 else []
    costs += [Cost(CostKind.NO_MARGIN, celsius=core_c)] if core_c < safe_c + least.margin_k else []
    after = wait + nothing(scene).after_minutes
    action = Action(Kind.PULL_LOWER, load.pit, core_c=core_c)
    return [Candidate(action, altered.pulled_at(load.cook, core_c), after, tuple(costs))], []


def rested_less(scene: Scene) -> Found:
    """Its rest cut to the shortest the cut has; not where the rest is what cooks it safe."""
    least, planned = scene.load.cut.rest_minutes[0], scene.load.load.rest_minutes
    if planned - least < judgement().least_rest_minutes:
        return [], [LeftOut(Kind.SHORTER_REST, Reason.AT_ITS_LEAST)]
    cooked = _minutes_at(scene, scene.load.cook.until_core_c)
    if cooked is None or cooked > least:
        return [], [LeftOut(Kind.SHORTER_REST, Reason.NOT_SAFE)]
    cost = Cost(CostKind.JUICIER_BOARD, planned - least)
    after = nothing(scene).after_minutes - (planned - least)
    return [Candidate(Action(Kind.SHORTER_REST), scene.load.cook, after, (cost,))], []


def _minutes_at(scene: Scene, core_c: float) -> float | None:
    """Minutes the load's core must stay at a temperature to be cooked on its pit, now and once turned."""
    load = scene.load
    least_c = scene.setpoint_c if load.then_c is None else min(scene.setpoint_c, load.then_c)
    oven_c = least_c + min(0.0, load.warmer_k)  # a warmer zone is no proof of a hotter oven
    return minutes_at(scene.house, load.cut, core_c, mass_kg=load.cook.mass_kg, oven_c=oven_c)
