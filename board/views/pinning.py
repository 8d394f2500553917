"""What planning a day again starts from, what a move would do, and what a draft changes, in plain words."""

from collections.abc import Collection
from dataclasses import asdict, dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from board.house.calendar import local
from board.house.wording import count, duration, short_day
from board.ledger.state import LoadStage
from board.planning.plan import Plan
from board.planning.replan.differences import differences
from board.planning.weights import in_money
from board.views import names
from board.views.facts import Facts, find_load, load_state
from board.views.text import inert

if TYPE_CHECKING:
    from board.planning.replan.pin import Pin
    from board.planning.replan.what_if import Place, WhatIf


@dataclass(frozen=True, slots=True)
class MoveLine:
    """One figure of a move: what it is, as it is now, and as it would be."""

    what: str
    now: str
    then: str

    @property
    def same(self) -> bool:
        """Whether the move leaves it as it is."""
        return self.now == self.then


@dataclass(frozen=True, slots=True)
class Move:
    """A load tried elsewhere: its figures before and after, and the rules it would break."""

    heading: str
    lines: tuple[MoveLine, ...]
    broken: tuple[str, ...]


def pins_for(facts: Facts, day: date, plan: Plan | None) -> "tuple[Pin, ...]":
    """The pins of a day that a plan has loads for, but of loads that have begun or are lost."""
    from board.planning.replan.pin import Pin  # noqa: PLC0415 - the sums load when first asked

    return tuple(
        Pin(pin.load, pin.pit, pin.load_at, pin.zone, pin.setpoint_c, pin.pieces)
        for pin in facts.pins
        if pin.day == day and pin.load in _open_loads(facts, plan)
    )


def _open_loads(facts: Facts, plan: Plan | None) -> Collection[str]:
    loads = plan.loads if plan else ()
    return {ld.id for ld in loads if plan and load_state(facts, ld, plan.day).stage is LoadStage.PLANNED}


def plan_to_keep(facts: Facts, day: date, draft: Plan | None) -> Plan | None:
    """The plan that the next one changes as little as helps: the committed one, or a draft with pins.

    Lost loads are no part of it: what they were to give is cooked anew.
    """
    pinned = {pin.load for pin in facts.pins if pin.day == day}
    committed = facts.plans.get(day)
    known = {load.id for load in committed.loads} if committed else set()
    drafted = {load.id for load in draft.loads} if draft else set()
    kept = draft if pinned & drafted - known else committed
    return without_lost(facts, kept) if kept else None


def without_lost(facts: Facts, plan: Plan) -> Plan:
    """A plan without the loads that were lost."""
    loads = [ld for ld in plan.loads if load_state(facts, ld, plan.day).stage is not LoadStage.LOST]
    return replace(plan, loads=tuple(loads))


def changed(facts: Facts, draft: Plan | None, day: date) -> tuple[str, ...]:
    """What a draft changes of the committed plan, a sentence each; what the crew must do first ahead."""
    committed = facts.plans.get(day)
    if draft is None or committed is None:
        return ()
    return tuple(inert(one.says) for one in differences(committed, draft, facts.house))


def move(facts: Facts, plan: Plan, tried: "WhatIf") -> Move:
    """A load tried elsewhere, as it is told on the screen."""
    house, load = facts.house, find_load(plan, tried.pin.load)
    cut = names.cut_name(house, load.cut) if load else tried.pin.load
    before, after = tried.before, tried.after
    was = load.pieces if load else tried.pieces
    lines = [
        MoveLine("pieces", count(was, cut), count(tried.pieces, cut)),
        MoveLine("pit", _spot(facts, before), _spot(facts, after)),
        MoveLine("setpoint", *(names.degrees(house, p.setpoint_c) for p in (before, after))),
        MoveLine("load", *_loading(facts, before, after)),
        MoveLine("likely ready", *(names.clock(house, p.ready_at) for p in (before, after))),
        MoveLine("spare", *(_spare(p) for p in (before, after))),
        MoveLine("in time", *(f"{100 * p.chance:.0f} %" for p in (before, after))),
        *_services(plan, before, after),
        *_costs(before, after),
    ]
    return Move(count(was, cut), tuple(lines), tuple(inert(one.says) for one in tried.broken))


def _spot(facts: Facts, place: "Place") -> str:
    return names.spot_name(facts.house, place.pit, place.zone)


def _loading(facts: Facts, before: "Place", after: "Place") -> tuple[str, str]:
    """When it is loaded before and after, with the days where they differ."""
    house = facts.house
    days = [local(place.load_at, house).date() for place in (before, after)]
    clocks = [names.clock(house, place.load_at) for place in (before, after)]
    if days[0] == days[1]:
        return clocks[0], clocks[1]
    now, then = (f"{short_day(day)} {clock}" for day, clock in zip(days, clocks, strict=True))
    return now, then


def _spare(place: "Place") -> str:
    late = place.spare_minutes < 0
    return ("late " if late else "") + duration(abs(place.spare_minutes))


def _services(plan: Plan, before: "Place", after: "Place") -> list[MoveLine]:
    """The chance of each service the load is for, as a whole."""
    called = {occasion.id: inert(occasion.name) for occasion in plan.occasions}
    new = {risk.service: risk.chance for risk in after.services}
    return [
        MoveLine(
            f"all of {called.get(risk.service, inert(risk.service))}",
            f"{100 * risk.chance:.0f} %",
            f"{100 * new.get(risk.service, 0.0):.0f} %",
        )
        for risk in before.services
    ]


def _costs(before: "Place", after: "Place") -> list[MoveLine]:
    """The whole cost, and every part of it that changes."""
    old, new = asdict(before.costs), asdict(after.costs)
    parts = [MoveLine(f"  {name}", in_money(old[name]), in_money(new[name])) for name in old]
    whole = MoveLine("cost of the plan", in_money(before.cost), in_money(after.cost))
    return [whole, *(line for line in parts if not line.same)]
