"""A draft beside the committed plan: load by load where they differ, and both as a whole."""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from datetime import date

from board.house.calendar import local
from board.house.model import House
from board.house.spans import minutes_between
from board.house.wording import count, duration, in_list
from board.planning.plan import Plan, PlannedLoad
from board.planning.replan.differences import differences, stays
from board.planning.replan.worded import SAME_DEGREES_K
from board.planning.weights import in_money
from board.views import names, worth
from board.views.days import when
from board.views.facts import Facts
from board.views.reference import ref
from board.views.text import inert

_SAME_MINUTES = 5.0  # likely times nearer than this are the same for the crew


@dataclass(frozen=True, slots=True)
class Side:
    """A load as one of the two plans has it."""

    meat: str
    spot: str
    load: str
    ready: str
    sure: str


@dataclass(frozen=True, slots=True)
class Pair:
    """A load in both plans, or in one: how each has it, what of it moved by how much, and in sentences."""

    key: str
    before: Side | None
    after: Side | None
    moved: str
    says: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of the whole day in both plans; `worse` where the draft does worse by it."""

    what: str
    before: str
    after: str
    worse: bool = False

    @property
    def same(self) -> bool:
        """Whether both plans say the same."""
        return self.before == self.after


@dataclass(frozen=True, slots=True)
class Comparison:
    """The loads that differ and how many do not, and the figures of the day.

    `says` is all that changes, in sentences; `also` those of them that are about no load.
    """

    pairs: tuple[Pair, ...]
    same: int
    figures: tuple[Figure, ...]
    also: tuple[str, ...]
    says: tuple[str, ...]


def comparison(facts: Facts, draft: Plan | None, day: date) -> Comparison | None:
    """The draft of a day beside its committed plan; None where one of them is not there."""
    committed = facts.plans.get(day)
    if draft is None or committed is None:
        return None
    found = differences(committed, draft, facts.house)
    says: dict[str | None, list[str]] = {}
    for one in found:
        says.setdefault(one.load, []).append(inert(one.says))
    old, new = ({load.id: load for load in plan.loads} for plan in (committed, draft))
    both = sorted({**old, **new}.values(), key=lambda load: (load.load_at, load.id))
    pairs = [_pair(facts, committed, draft, load.id, tuple(says.get(load.id, ()))) for load in both]
    told = [pair for pair in pairs if pair.moved or pair.says]
    return Comparison(
        tuple(told),
        len(pairs) - len(told),
        tuple(sorted(_figures(facts.house, committed, draft), key=lambda figure: figure.same)),
        tuple(says.get(None, ())),
        tuple(inert(one.says) for one in found),
    )


def _pair(facts: Facts, committed: Plan, draft: Plan, id: str, says: tuple[str, ...]) -> Pair:
    was, now = (next((ld for ld in plan.loads if ld.id == id), None) for plan in (committed, draft))
    days = {local(load.load_at, facts.house).date() for load in (was, now) if load is not None}
    before, after = (_side(facts, load, dated=len(days) > 1) for load in (was, now))
    return Pair(ref(draft.day, id), before, after, _moved(facts.house, committed, draft, was, now), says)


def _side(facts: Facts, load: PlannedLoad | None, *, dated: bool) -> Side | None:
    """A load as a plan has it, with the day of its loading where the plans differ in that."""
    if load is None:
        return None
    house = facts.house
    return Side(
        names.pieces(house, load),
        names.load_spot(house, load),
        when(facts, load.load_at) if dated else names.clock(house, load.load_at),
        names.clock(house, load.ready_at.p50),
        f"{round(100 * load.chance)} %",
    )


def _moved(
    house: House, committed: Plan, draft: Plan, was: PlannedLoad | None, now: PlannedLoad | None
) -> str:
    """What moved and by how much: `1 h 05 later, on Alcove, 2 fewer`."""
    if was is not None and now is not None:
        return ", ".join(_clauses(house, was, now))
    if now is not None:
        return _from(house, committed, draft, now) or "new"
    return _into(house, committed, draft, was) if was is not None else ""


def _clauses(house: House, was: PlannedLoad, now: PlannedLoad) -> Iterator[str]:
    later = minutes_between(was.load_at, now.load_at)
    if later and not stays(was, now):
        yield f"{duration(abs(later))} {'later' if later > 0 else 'earlier'}"
    if (was.pit, was.zone) != (now.pit, now.zone):
        yield f"to {names.load_spot(house, now)}"
    if abs(now.setpoint_c - was.setpoint_c) >= SAME_DEGREES_K:
        yield f"at {names.degrees(house, now.setpoint_c)}"
    if more := now.pieces - was.pieces:
        yield f"{abs(more)} {'more' if more > 0 else 'fewer'}"
    ready = minutes_between(was.ready_at.p50, now.ready_at.p50)
    if not later and abs(ready) >= _SAME_MINUTES:
        yield f"ready {duration(abs(ready))} {'later' if ready > 0 else 'earlier'}"


def _from(house: House, committed: Plan, draft: Plan, load: PlannedLoad) -> str:
    """Of which loads a new one is split off: those of its cut that have fewer pieces than before."""
    now = {one.id: one for one in draft.loads}
    fewer = [
        now[was.id]
        for was in committed.loads
        if was.cut == load.cut and was.id in now and now[was.id].pieces < was.pieces
    ]
    return f"split off {in_list([names.pieces(house, one) for one in fewer])}" if fewer else ""


def _into(house: House, committed: Plan, draft: Plan, load: PlannedLoad) -> str:
    """Into which loads one that is gone went: those of its cut that have more pieces than before."""
    was = {one.id: one for one in committed.loads}
    grown = [
        now
        for now in draft.loads
        if now.cut == load.cut and (now.id not in was or was[now.id].pieces < now.pieces)
    ]
    return f"now in {in_list([names.pieces(house, one) for one in grown])}" if grown else "no longer cooked"


def _figures(house: House, committed: Plan, draft: Plan) -> Iterator[Figure]:
    """The chance of each service, what is short, and what both plans cost where it differs."""
    chances = {risk.service: risk for risk in draft.risks}
    for risk in committed.risks:
        after = chances.get(risk.service)
        name = f"{worth.occasion_name(committed, risk.service)} in time"
        yield Figure(
            name, _percent(risk.chance), _percent(after.chance) if after else _unsaid(draft, risk.service),
            worse=after is not None and after.unsure and after.chance < risk.chance,
        )  # fmt: skip
    old, new = _short(committed), _short(draft)
    for service, item in sorted({*old, *new}):
        name = f"{worth.occasion_name(draft, service)}: {names.item_name(house, item)} short"
        was, now = old.get((service, item), 0), new.get((service, item), 0)
        yield Figure(name, str(was), str(now), worse=now > was)
    if not old and not new:
        yield Figure("portions short", "0", "0")
    yield Figure("cost", in_money(committed.cost), in_money(draft.cost), worse=draft.cost > committed.cost)
    for part in fields(draft.costs):
        before, then = (in_money(getattr(plan.costs, part.name)) for plan in (committed, draft))
        if before != then:
            yield Figure(f"  {worth.part_name(part.name)}", before, then)


def _short(plan: Plan) -> dict[tuple[str, str], int]:
    found: dict[tuple[str, str], int] = {}
    for short in plan.short:
        found[short.service, short.item] = found.get((short.service, short.item), 0) + short.portions
    return found


def _percent(chance: float) -> str:
    return f"{worth.hundred(chance)} %"


def _unsaid(plan: Plan, service: str) -> str:
    """Why a plan gives no chance: all that is cooked for it has begun, or it is not on that day."""
    return "under way" if any(one.id == service for one in plan.occasions) else "not held"


def summary(view: Comparison) -> str:
    """What differs, in a word: `3 loads change, 12 stay as they are`."""
    if not view.pairs:
        return "no load changes"
    verb = "changes" if len(view.pairs) == 1 else "change"
    rest = f", {view.same} {'stays' if view.same == 1 else 'stay'} as planned" if view.same else ""
    return f"{count(len(view.pairs), 'load')} {verb}{rest}"
