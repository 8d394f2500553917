"""What splitting a load or joining two would do, told before it is taken."""

from collections.abc import Collection, Iterable
from typing import TYPE_CHECKING

from board.planning.plan import Plan, PlannedLoad, Risk
from board.planning.replan.regroup import Split, Wish, regrouped
from board.views import names
from board.views.facts import Facts, find_load
from board.views.pinning import Move, MoveLine, cost_lines, percent, service_lines
from board.views.text import inert

if TYPE_CHECKING:
    from board.planning.replan.desk import Desk


def regroup_effect(facts: Facts, plan: Plan, wish: Wish, before: "Desk", after: "Desk") -> Move:
    """What splitting or joining does, where the loads lie now: chances, cost, steps, what must be settled."""
    now, then = plan, regrouped(plan, [wish])
    both = [wish.load, wish.into if isinstance(wish, Split) else wish.other]
    lines = [
        *(_chance(now, then, id, before, after) for id in both),
        MoveLine("steps", str(_steps(plan, both)), str(_steps_then(plan, wish))),
        *service_lines(plan, *(_risks(desk, now, both) for desk in (before, after))),
        *cost_lines(before.costs, after.costs),
    ]
    asks = dict.fromkeys(says for load in then.loads if load.id in both for says in _lacks(after, load))
    return Move(_heading(facts, plan, wish), tuple(lines), (), tuple(map(inert, asks)))


def _heading(facts: Facts, plan: Plan, wish: Wish) -> str:
    load = find_load(plan, wish.load)
    if load is None:
        return ""
    house, there = facts.house, names.spot_name(facts.house, load.pit, load.zone)
    if isinstance(wish, Split):
        stay = load.pieces - wish.pieces
        return (
            f"{names.pieces(house, load)} on {there}: {stay} stay{'s' if stay == 1 else ''}, "
            f"{names.own_load(wish.pieces)}"
        )
    other = find_load(plan, wish.other)
    here = f"{names.pieces(house, load)} on {there}, {names.clock(house, load.load_at)}"
    if other is None:
        return here
    where = f"{names.load_spot(house, other)}, {names.clock(house, other.load_at)}"
    return f"{here}, joined by {other.pieces} from {where}"


def _chance(now: Plan, then: Plan, id: str, before: "Desk", after: "Desk") -> MoveLine:
    """How surely one load is in time; where there is no such load, a dash."""
    here, there = find_load(now, id), find_load(then, id)
    pieces = next((load.pieces for load in (there, here) if load is not None), 0)
    return MoveLine(f"{pieces} in time", _sure(before, here), _sure(after, there))


def _sure(desk: "Desk", load: PlannedLoad | None) -> str:
    from board.planning.replan.pin import pin_of  # noqa: PLC0415 - the sums are loaded by now
    from board.planning.replan.what_if import what_if  # noqa: PLC0415

    if load is None or load.id not in desk.parts:
        return "–"
    return percent(what_if(desk, pin_of(load)).before.chance)


def _lacks(desk: "Desk", load: PlannedLoad) -> Iterable[str]:
    from board.planning.replan.pin import pin_of  # noqa: PLC0415 - the sums are loaded by now
    from board.planning.replan.what_if import what_if  # noqa: PLC0415

    if load.id not in desk.parts:
        return ()
    return (one.says for one in what_if(desk, pin_of(load)).broken)


def _risks(desk: "Desk", plan: Plan, loads: Iterable[str]) -> list[Risk]:
    served = {service for id in loads if (load := find_load(plan, id)) for service in load.services}
    return [risk for risk in desk.risks if risk.service in served]


def _steps(plan: Plan, loads: Collection[str]) -> int:
    return sum(step.load is not None and step.load in loads for step in plan.steps)


def _steps_then(plan: Plan, wish: Wish) -> int:
    """Each load has all the steps of its cut."""
    return 2 * _steps(plan, [wish.load]) if isinstance(wish, Split) else _steps(plan, [wish.load])
