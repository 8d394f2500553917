"""What helps one load: all remedies that break no rule, judged beside doing nothing, best first."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from board.house.spans import minutes_between
from board.planning.remedies import fire, meat, move, serving, waiting
from board.planning.remedies.candidate import Candidate, nothing
from board.planning.remedies.judge import judged, minutes_sooner
from board.planning.remedies.numbers import harms, judgement
from board.planning.remedies.remedy import Advice, Cost, CostKind, Kind, LeftOut, Reason, Remedy
from board.planning.remedies.scene import Scene

MEMBERS = 128  # as the live estimate beside it has, so that both say the same


def advise(scene: Scene, *, members: int = MEMBERS, seed: int = 0) -> Advice | None:
    """What helps the scene's load; None where it can never come to its pull.

    `members` of one ensemble carry every remedy, so that their times differ by what is done alone. A load
    in time 9 times in 10 is early: its remedies are ways to wait.
    """
    alone = judged(scene, [nothing(scene)], members=members, seed=seed)
    if not alone:
        return None
    base = alone[0][1]
    helping = _early if base.ready.p90 <= scene.load.due else _late
    return helping(scene, base, members, seed)


def _late(scene: Scene, base: Remedy, members: int, seed: int) -> Advice:
    until = max(scene.load.pull.p90, base.ready.p90, scene.now + timedelta(hours=1))
    raised, left = fire.raised(scene, until)
    raised, overheld = _others_stand(scene, raised, seed)
    wrapped, open_still = meat.wrapped(scene)
    candidates = [*raised, *wrapped]
    if raised and wrapped:
        candidates.append(meat.also_wrapped(scene, raised[0], wrapped[0]))
    left = [*left, *overheld, *open_still]
    for found, out in (move.moved(scene, until), meat.pulled_lower(scene), meat.rested_less(scene)):
        candidates += found
        left += out
    answers = judged(scene, [nothing(scene), *candidates], members=members, seed=seed)
    others, none = serving.served_first(scene, base)
    remedies = [remedy for _, remedy in answers[1:]] + others
    helping = [one for one in remedies if _helps(one, base)]
    idle = [_no_help(one) for one in remedies if one not in helping]
    helping.sort(key=lambda one: _rank(one, scene.load.due))
    return Advice(scene.load.load.id, base, tuple(helping), (*left, *none, *idle))


def _early(scene: Scene, base: Remedy, members: int, seed: int) -> Advice:
    lowered, left = fire.lowered(scene, scene.load.due)
    lowered, late = _others_stand(scene, lowered, seed)
    answers = judged(scene, [nothing(scene), *lowered], members=members, seed=seed)[1:]
    enough = min(scene.house.chance, base.chance)
    sure = [_waiting(scene, one) for _, one in answers if one.chance >= enough]
    unsure = [_no_help(one) for _, one in answers if one.chance < enough]
    held, cannot_hold = waiting.held(scene, base)
    boxed, cannot_box = waiting.boxed(scene, base, members=members, seed=seed)
    remedies = sorted([*held, *boxed, *sure[:1]], key=lambda one: _rank(one, scene.load.due))
    left_out = (*cannot_hold, *cannot_box, *left, *late, *unsure)
    return Advice(scene.load.load.id, _waiting(scene, base), tuple(remedies), left_out, is_early=True)


def _others_stand(
    scene: Scene, found: Sequence[Candidate], seed: int
) -> tuple[list[Candidate], list[LeftOut]]:
    """Those setpoints that the other loads on the pit stand, with what they do to them."""
    others, kept, left = scene.sharing(scene.load.pit), [], []
    for one in found:
        setpoint_c = one.action.setpoint_c
        assert setpoint_c is not None
        shifts = minutes_sooner(scene, others, setpoint_c, seed=seed) if others else {}
        costs, out = fire.others_shifted(scene, one.action.kind, shifts)
        if out is None:
            kept.append(one.costing(*costs))
        else:
            left.append(out)
    return kept, left if not kept else []


def _no_help(one: Remedy) -> LeftOut:
    return LeftOut(one.action.kind, Reason.NO_HELP, one.action.pit)


def _helps(one: Remedy, base: Remedy) -> bool:
    """Whether it is worth doing."""
    least, sooner = judgement(), minutes_between(one.ready.p50, base.ready.p50)
    is_sooner = sooner >= least.sooner_minutes and one.chance >= base.chance
    return is_sooner or one.chance >= base.chance + least.clearer_chance


def _waiting(scene: Scene, one: Remedy) -> Remedy:
    """With how long it is then likely to wait."""
    wait = max(0.0, minutes_between(one.ready.p50, scene.load.due))
    return Remedy(one.action, one.ready, one.chance, (*one.costs, Cost(CostKind.HELD, wait)))


def _rank(one: Remedy, due: datetime) -> tuple[float, float, float, datetime, Kind]:
    """Chance first, then how late it still is, then the least harm, then the sooner."""
    alike, late = judgement(), max(0.0, minutes_between(due, one.ready.p50))
    return (
        -round(one.chance / alike.chances_alike),
        round(late / alike.lateness_alike_minutes),
        _harm(one),
        one.ready.p50,
        one.action.kind,
    )


def _harm(one: Remedy) -> float:
    """What a remedy costs in all; a setpoint weighs by how far it goes."""
    hotter_k = sum(abs(cost.celsius or 0.0) for cost in one.costs if cost.kind is CostKind.DRIER)
    return hotter_k / judgement().drier_k + sum(harms()[cost.kind] for cost in one.costs)
