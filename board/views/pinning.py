"""What planning a day again starts from, what a move would do, and what a draft changes, in plain words."""

from collections.abc import Collection, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from board.house.calendar import local
from board.house.spans import TimeSpan
from board.house.wording import duration, short_day
from board.ledger.state import LoadStage
from board.planning.plan import CostParts, Plan, PlannedLoad, Risk
from board.planning.replan.regroup import Join, Split, Wish, regrouped
from board.planning.weights import in_money
from board.views import names
from board.views.facts import Facts, find_load, load_state
from board.views.text import inert
from board.views.worth import part_word

if TYPE_CHECKING:
    from board.planning.replan.pin import Pin
    from board.planning.replan.what_if import Place, WhatIf

_TOLD_FROM = 5  # hundredths: a chance that differs by less is drawn by lot


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
    """Something tried: where it leads, its figures before and after, and the rules it would break.

    `settled_next` is what does not fit as it lies, where the next plan may put it otherwise.
    """

    heading: str
    lines: tuple[MoveLine, ...]
    broken: tuple[str, ...]
    settled_next: tuple[str, ...] = ()


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
    """The plan that the next one changes as little as helps: the committed one, or a draft with wishes.

    Loads to be split or joined are so in it.
    Lost loads are no part of it: what they were to give is cooked anew.
    """
    wishes = wishes_for(facts, day)
    meant = {pin.load for pin in facts.pins if pin.day == day} | {wish.load for wish in wishes}
    committed, drafted = (regrouped(plan, wishes) if plan else None for plan in (facts.plans.get(day), draft))
    kept = drafted if meant & _ids(drafted) - _ids(committed) else committed
    return without_lost(facts, kept) if kept else None


def _ids(plan: Plan | None) -> frozenset[str]:
    return frozenset(load.id for load in plan.loads) if plan else frozenset()


def wishes_for(facts: Facts, day: date) -> tuple[Wish, ...]:
    """Which loads of a day are to be split or joined, in the order in which that was said."""
    return tuple(
        Split(one.load, one.pieces, one.other) if one.pieces is not None else Join(one.load, one.other)
        for one in facts.regroups
        if one.day == day
    )


def without_lost(facts: Facts, plan: Plan) -> Plan:
    """A plan without the loads that were lost."""
    loads = [ld for ld in plan.loads if load_state(facts, ld, plan.day).stage is not LoadStage.LOST]
    return replace(plan, loads=tuple(loads))


def move(facts: Facts, plan: Plan, tried: "WhatIf") -> Move:
    """A load tried elsewhere, as it is told on the screen."""
    house, load = facts.house, find_load(plan, tried.pin.load)
    cut = load.cut if load else tried.pin.load
    before, after = tried.before, tried.after
    lines = [
        MoveLine("ready", *(names.clock(house, p.ready_at) for p in (before, after))),
        MoveLine("spare", *(_spare(p) for p in (before, after))),
        MoveLine("in time", *(percent(p.chance) for p in (before, after))),
        *service_lines(plan, before.services, after.services),
        *cost_lines(before.costs, after.costs),
    ]
    pieces = names.of_cut(house, cut, tried.pieces)
    heading = f"{pieces} on {_leads(facts, before, after)}"
    return Move(heading, tuple(lines), tuple(inert(one.says) for one in tried.broken))


def tried_plan(plan: Plan, tried: "WhatIf") -> Plan:
    """The plan as it is drawn while a load of it is tried elsewhere."""
    after = tried.after
    loads = tuple(
        _at(load, after, tried.pieces) if load.id == tried.pin.load else load for load in plan.loads
    )
    return replace(plan, loads=loads)


def _at(load: PlannedLoad, place: "Place", pieces: int) -> PlannedLoad:
    """A load as it would be at a place, with so many pieces."""
    later = place.ready_at - load.ready_at.p50
    wait = load.ready_at.p50 - load.pull_at.p50
    ready = TimeSpan(*(moment + wait for moment in (place.pull_at.p10, place.pull_at.p50, place.pull_at.p90)))
    return replace(
        load,
        pieces=pieces,
        area_m2=load.area_m2 * pieces / load.pieces,
        pit=place.pit,
        zone=place.zone,
        setpoint_c=place.setpoint_c,
        light_at=place.light_at,
        load_at=place.load_at,
        wrap_at=place.wrap_at,
        pull_at=place.pull_at,
        ready_at=ready,
        spare_minutes_p50=load.spare_minutes_p50 - later / timedelta(minutes=1),
        chance=place.chance,
        turn_at=None if load.turn_at is None else load.turn_at + (place.load_at - load.load_at),
    )


def percent(chance: float) -> str:
    """A chance in whole hundredths."""
    return f"{100 * chance:.0f} %"


def _leads(facts: Facts, before: "Place", after: "Place") -> str:
    """Where and when it is loaded, and where and when it would be: only what changes is said twice."""
    house = facts.house
    days = [local(place.load_at, house).date() for place in (before, after)]
    clocks = [names.clock(house, place.load_at) for place in (before, after)]
    here, there = (names.spot_name(house, place.pit, place.zone) for place in (before, after))
    degrees = [names.degrees(house, place.setpoint_c) for place in (before, after)]
    heat = f" at {degrees[1]}" if degrees[0] != degrees[1] else ""
    on = f" {short_day(days[1])}" if days[0] != days[1] else ""
    if before.load_at == after.load_at and (here, heat) == (there, ""):
        return f"{here}, {clocks[0]}: where to?"
    then = f"{there}, {clocks[1]}" if here != there else clocks[1]
    return f"{here}, {clocks[0]} → {then}{on}{heat}"


def _spare(place: "Place") -> str:
    late = place.spare_minutes < 0
    return ("late " if late else "") + duration(abs(place.spare_minutes))


def _as_planned(planned: float, now: float) -> str:
    """What the plan said, where what was cooked since has made it another chance."""
    return (
        f", planned {percent(planned)}," if abs(round(100 * planned) - round(100 * now)) >= _TOLD_FROM else ""
    )


def service_lines(plan: Plan, before: Sequence[Risk], after: Sequence[Risk]) -> list[MoveLine]:
    """The chance of each service as a whole, as it was and as it would be."""
    called = {occasion.id: inert(occasion.name) for occasion in plan.occasions}
    new = {risk.service: risk.chance for risk in after}
    planned = {risk.service: risk.chance for risk in plan.risks}
    return [
        MoveLine(
            f"all of {called.get(risk.service, inert(risk.service))}"
            + _as_planned(planned.get(risk.service, risk.chance), risk.chance),
            percent(risk.chance),
            percent(new.get(risk.service, 0.0)),
        )
        for risk in before
    ]


def cost_lines(before: CostParts, after: CostParts) -> list[MoveLine]:
    """The whole cost, and every part of it that changes."""
    old, new = asdict(before), asdict(after)
    parts = [MoveLine(part_word(name), in_money(old[name]), in_money(new[name])) for name in old]
    whole = MoveLine("cost", in_money(before.total), in_money(after.total))
    return [whole, *(line for line in parts if not line.same)]
