"""The loads in trouble as the remedies ask of them, and what helps: the ensemble run for each remedy."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from board.house.spans import minutes_between
from board.ledger.state import LoadStage, LoadState
from board.planning.modes import warmer_here_k
from board.planning.plan import Plan, PlannedLoad
from board.views.called_off import is_called_off
from board.views.facts import Facts, all_loads, load_state, zone_at
from board.views.likely import likely_times
from board.views.progress import Revised, Risk, due_by
from board.views.revising import cook_now, estimate_now, is_cooking
from board.views.turning import turn_ahead

if TYPE_CHECKING:
    from board.cooking.cook import Cook
    from board.planning.remedies.remedy import Action, Advice
    from board.planning.remedies.scene import OnPit, Scene, Stay, Supply

Advised = Mapping[str, "Advice"]
"""What helps the loads in trouble, by load id, where it has been computed."""

EVERY_MINUTES = 10  # advice older than this is asked anew
_AHEAD = (LoadStage.PLANNED, LoadStage.PREPPED)
_GONE = (LoadStage.SERVED, LoadStage.LOST)
Moment = tuple[object, ...]


def in_trouble(facts: Facts, revised: Revised | None = None) -> Iterator[tuple[Plan, PlannedLoad]]:
    """The loads on a pit that are late or may be."""
    for plan, load in all_loads(facts):
        if is_cooking(facts, plan, load) and not is_called_off(facts, load):
            likely = likely_times(facts, plan, load, revised)
            if likely.risk is not Risk.IN_TIME:
                yield plan, load


def advised(facts: Facts, revised: Revised | None = None) -> "dict[str, Advice]":
    """What helps each load in trouble, by load id; about a second for each."""
    found = {load.id: advice_for(facts, plan, load, revised) for plan, load in in_trouble(facts, revised)}
    return {id: advice for id, advice in found.items() if advice is not None}


def advice_for(
    facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None = None
) -> "Advice | None":
    """What helps one load, in trouble or not; None for one on no pit, or that cannot be estimated."""
    from board.planning.remedies.advise import advise  # noqa: PLC0415 - arrays load at the first question

    if not is_cooking(facts, plan, load):
        return None
    return advise(scene_of(facts, plan, load, revised))


def may_still_do(facts: Facts, plan: Plan, load: PlannedLoad, action: "Action") -> bool:
    """Whether a remedy chosen from a list may be done as things stand: others may have marked since."""
    from board.planning.remedies.again import may_still  # noqa: PLC0415 - arrays load at the first question

    return is_cooking(facts, plan, load) and may_still(scene_of(facts, plan, load), action)


def asked_of(facts: Facts, revised: Revised | None = None) -> Moment:
    """What the advice depends on: it needs no new sum while this stays the same."""
    troubled = tuple(load.id for _, load in in_trouble(facts, revised))
    return (troubled, *around(facts, troubled, revised)) if troubled else ()


def around(facts: Facts, ids: Iterable[str], revised: Revised | None = None) -> Moment:
    """What advice on some loads depends on: the fires, where every load stands, their pulls, the minutes."""
    fires = tuple((id, pit.setpoint_c) for id, pit in facts.pits.items())
    stages = tuple((key, state.stage, state.pit) for key, state in facts.loads.items())
    pulls = tuple((id, (revised or {})[id]) for id in ids if id in (revised or {}))
    return (fires, stages, pulls, int(facts.now.timestamp() // (60 * EVERY_MINUTES)))


def scene_of(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None = None) -> "Scene":
    """One load on a pit and all around it."""
    from board.planning.remedies.scene import Scene  # noqa: PLC0415

    others = [(p, ld) for p, ld in all_loads(facts) if (p.day, ld.id) != (plan.day, load.id)]
    beside = [(p, ld) for p, ld in others if is_cooking(facts, p, ld)]
    here, *around = _on_pits(facts, [(plan, load), *beside], revised)
    return Scene(
        house=facts.house,
        now=facts.now,
        load=here,
        beside=tuple(around),
        coming=tuple(ld for p, ld in others if load_state(facts, ld, p.day).stage in _AHEAD),
        lit={id: pit.setpoint_c for id, pit in facts.pits.items() if pit.lit_at and pit.setpoint_c},
        supplies=tuple(
            _supply(facts, p, ld, revised)
            for p, ld in others
            if p.day == plan.day and ld.item == load.item and _is_left(load_state(facts, ld, p.day))
        ),
        held=tuple(stay for p, ld in others for stay in _stays(facts, p, ld, revised)),
    )


def _on_pits(
    facts: Facts, pairs: Sequence[tuple[Plan, PlannedLoad]], revised: Revised | None
) -> "list[OnPit]":
    """Loads on their pits, each with its cook so far and its readings that count."""
    known = estimate_now(facts, pairs)
    found = []
    for plan, load in pairs:
        now = known.get(load.id)
        cook = now.cook if now else cook_now(facts, plan, load)
        taken = now.taken if now else ()
        one = _on_pit(facts, plan, load, revised, cook=cook, taken=taken)
        found.append(replace(one, door_minutes=now.door_minutes if now else 0.0))
    return found


def _on_pit(
    facts: Facts,
    plan: Plan,
    load: PlannedLoad,
    revised: Revised | None,
    *,
    cook: "Cook",
    taken: tuple[tuple[float, float], ...],
) -> "OnPit":
    from board.planning.remedies.altered import NEVER, wrapped_at  # noqa: PLC0415
    from board.planning.remedies.scene import OnPit  # noqa: PLC0415

    state, turn = load_state(facts, load, plan.day), turn_ahead(facts, plan, load)
    pit, zone = state.pit or load.pit, zone_at(facts, load, plan.day)
    assert state.on_at is not None
    is_wrapped, core_c = state.wrapped_at is not None, max(taken, default=(0.0, None))[1]
    overdue = cook.wrap is not None and core_c is not None and core_c >= cook.wrap.at_core_c
    return OnPit(
        load=load,
        cook=wrapped_at(cook, NEVER) if overdue and not is_wrapped else cook,
        on_at=state.on_at,
        pit=pit,
        due=due_by(load),
        pull=likely_times(facts, plan, load, revised).pull,
        taken=taken,
        is_wrapped=is_wrapped,
        has_moved=state.moved_at is not None,
        zone=zone,
        warmer_k=warmer_here_k(facts.house, pit, zone),
        turn_minute=minutes_between(state.on_at, turn.at) if turn else None,
    )


def _supply(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None) -> "Supply":
    from board.planning.remedies.scene import Supply  # noqa: PLC0415

    left = load_state(facts, load, plan.day).portions_left
    ready = likely_times(facts, plan, load, revised).ready
    return Supply(load, ready, due_by(load), left)


def _is_left(state: LoadState) -> bool:
    return state.stage not in _GONE and state.portions_left > 0


def _stays(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised | None) -> "Iterator[Stay]":
    """The room a load has or will have in the holds it is planned for; in each of several, all of it."""
    from board.planning.remedies.scene import Stay  # noqa: PLC0415

    state = load_state(facts, load, plan.day)
    if load.hold is None or not _is_left(state):
        return
    begin, end = likely_times(facts, plan, load, revised).ready.p50, load.needed_at
    if state.stage is LoadStage.HOLDING:
        begin, end = facts.now, max(end, _held_until(facts, load, state))
    for hold in load.hold.split(", "):
        yield Stay(hold, load.area_m2, begin, max(end, begin))


def _held_until(facts: Facts, load: PlannedLoad, state: LoadState) -> datetime:
    """When a load that is not all served must be out of its hold."""
    cut, since = facts.house.cuts.get(load.cut), state.holding_at or state.since or facts.now
    return since + timedelta(minutes=cut.hold_longest_minutes) if cut else facts.now
