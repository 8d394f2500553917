"""What would help a load, in words: each remedy with its time, its chance and what it costs."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from board.house.degrees import shown_step
from board.house.model import House
from board.house.wording import count, duration
from board.planning.plan import Plan, PlannedLoad
from board.planning.remedies.remedy import (
    Action,
    Advice,
    Cost,
    CostKind,
    Kind,
    LeftOut,
    Reason,
    Remedy,
)
from board.views import names
from board.views.called_off import is_called_off
from board.views.facts import Facts, all_loads, load_state
from board.views.reference import ref
from board.views.spots import spot
from board.views.text import inert

WORD = "These are estimates, no proof: probe before you pull."
_SURE, _NEVER = 0.975, 0.05
_SOFT_C = 80.0  # a cut pulled above this is cooked tender, below it sliced as a roast
_BIRD = "poultry"


@dataclass(frozen=True, slots=True)
class RemedyLine:
    """One remedy: what is done, when the load is then ready, the chance to be in time, what it costs."""

    key: str
    says: str
    ready: str
    span: str
    odds: str
    costs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Remedies:
    """What would help one load, best first, doing nothing last; `left_out` says what is not, and why."""

    load: str
    heading: str
    lines: tuple[RemedyLine, ...]
    left_out: tuple[str, ...]


def best_line(facts: Facts, load: PlannedLoad, advice: Advice | None) -> str:
    """The best remedy of a late load in one sentence; empty where none has been worked out."""
    if advice is None or advice.is_early or is_called_off(facts, load):
        return ""
    best = advice.best
    if best is None:
        return "nothing found that helps: remedies say why"
    there = best.ready.p50 <= facts.now
    ready = "ready now" if there else f"likely {names.clock(facts.house, best.ready.p50)}"
    return f"{action_words(facts, load, best.action)}: {ready}, {odds(best)}"


def remedies(facts: Facts, plan: Plan, load: PlannedLoad, advice: Advice) -> Remedies:
    """All that would help one load, and what is left out."""
    where = spot(facts, load, plan.day)
    needed = names.clock(facts.house, load.needed_at)
    heading = f"{names.pieces(facts.house, load)} on {where}, needed {needed}"
    shown = (*advice.remedies, advice.nothing)
    lines = tuple(_line(facts, load, str(index), one) for index, one in enumerate(shown))
    left_out = dict.fromkeys(_left_out(facts, load, one) for one in advice.left_out)
    return Remedies(ref(plan.day, load.id), heading, lines, tuple(left_out))


def odds(one: Remedy) -> str:
    """A chance as it is said: `9 times in 10 in time`."""
    return f"{chance(one)} in time"


def chance(one: Remedy) -> str:
    """The chance alone: `9 times in 10`, of both loads where another goes first."""
    both = " both" if one.action.kind is Kind.OTHER_FIRST else ""
    if one.chance >= _SURE:
        return f"almost surely{both}"
    if one.chance < _NEVER:
        return f"almost never{both}"
    times = min(9, max(1, round(10 * one.chance)))
    return f"{count(times, 'time')} in 10{both}"


def _line(facts: Facts, load: PlannedLoad, key: str, one: Remedy) -> RemedyLine:
    house = facts.house
    p10, p50, p90 = (names.clock(house, at) for at in (one.ready.p10, one.ready.p50, one.ready.p90))
    costs = [_COSTS[cost.kind](facts, load, cost) for cost in one.costs]
    return RemedyLine(
        key=key,
        says=action_words(facts, load, one.action),
        ready="now" if one.ready.p50 <= facts.now else p50,
        span="" if p10 == p90 else f"{p10}–{p90}",
        odds=chance(one),
        costs=tuple(cost for cost in costs if cost),
    )


def action_words(facts: Facts, load: PlannedLoad, action: Action) -> str:
    """What is done, as one would call it across the yard."""
    house = facts.house
    pit = names.pit_name(house, action.pit)
    at = names.degrees(house, action.setpoint_c) if action.setpoint_c is not None else ""
    core = names.degrees(house, action.core_c) if action.core_c is not None else ""
    least = duration(house.cuts[load.cut].rest_minutes[0])
    says = {
        Kind.RAISE: f"raise {pit} to {at}",
        Kind.WRAP: f"wrap now{_wrap_words(facts, load)}",
        Kind.RAISE_AND_WRAP: f"raise {pit} to {at} and wrap{_wrap_words(facts, load)}",
        Kind.MOVE: _move_words(house, action, at),
        Kind.PULL_LOWER: f"pull at {core}",
        Kind.SHORTER_REST: f"rest only {least}",
        Kind.OTHER_FIRST: f"serve the {_load_words(facts, action.other)} first",
        Kind.LOWER: f"lower {pit} to {at}",
        Kind.HOLD: f"hold in {names.place_name(house, action.hold)}",
        Kind.BOX: "rest in a closed box",
        Kind.NOTHING: "leave it as it is",
    }
    return says[action.kind]


def _move_words(house: House, action: Action, at: str) -> str:
    """Where it is carried, and into which zone."""
    pit, zone = names.pit_name(house, action.pit), names.zone_name(house, action.pit, action.zone)
    if action.is_unlit:
        return f"light {pit} to {at} and move there" + (f", {zone}" if zone else "")
    return f"move to {names.spot_name(house, action.pit, action.zone)} at {at}"


def _wrap_words(facts: Facts, load: PlannedLoad) -> str:
    wrap = facts.house.cuts[load.cut].wrap
    return f" in {wrap.material.value}" if wrap else ""


def _load_words(facts: Facts, id: str) -> str:
    """Another load by its pieces and where it is or was: `4 pork shoulders on South`."""
    for plan, load in all_loads(facts):
        if load.id == id:
            where = spot(facts, load, plan.day)
            is_off = load_state(facts, load, plan.day).pulled_at is not None
            return f"{names.pieces(facts.house, load)} {'off' if is_off else 'on'} {where}"
    return inert(id)


def _found(facts: Facts, id: str) -> PlannedLoad | None:
    return next((load for _, load in all_loads(facts) if load.id == id), None)


def _pieces(facts: Facts, id: str) -> str:
    load = _found(facts, id)
    return names.pieces(facts.house, load) if load else inert(id)


Say = Callable[[Facts, PlannedLoad, Cost], str]


def _back(facts: Facts, own: PlannedLoad, cost: Cost) -> str:
    load = _found(facts, cost.load)
    at = names.degrees(facts.house, cost.celsius or 0.0)
    if cost.load == own.id:
        return f"still to be set to {at} as planned"
    when = f" at {names.clock(facts.house, load.load_at)}" if load else ""
    return f"back to {at} when the {_pieces(facts, cost.load)} go on{when}"


def _drier(facts: Facts, _: PlannedLoad, cost: Cost) -> str:
    by = round(shown_step(cost.celsius or 0.0, facts.house.display))
    return f"{by}° hotter: drier outside"


def _softer_bark(facts: Facts, load: PlannedLoad, cost: Cost) -> str:
    wrap = facts.house.cuts[load.cut].wrap
    usual = f", not {names.degrees(facts.house, wrap.at_core_c)}" if wrap else ""
    return f"wrapped at {names.degrees(facts.house, cost.celsius or 0.0)}{usual}: softer bark"


def _firmer(facts: Facts, load: PlannedLoad, _: Cost) -> str:
    soft = facts.house.cuts[load.cut].pull_core_c >= _SOFT_C
    return "firmer than the house likes it" if soft else "less done than the house likes it"


def _shifted(facts: Facts, cost: Cost, word: str) -> str:
    return f"the {_pieces(facts, cost.load)} done {duration(cost.minutes)} {word}"


def _swapped(facts: Facts, load: PlannedLoad, cost: Cost) -> str:
    other = _found(facts, cost.load)
    when = f" at {names.clock(facts.house, other.needed_at)}" if other else ""
    late = f", {duration(cost.minutes)} late" if cost.minutes >= 1 else ""
    return f"the {names.pieces(facts.house, load)} then serve{when}{late}"


_COSTS: Mapping[CostKind, Say] = {
    CostKind.HANDS: lambda _f, _l, c: f"{duration(c.minutes)} of one person",
    CostKind.FIRE: lambda _f, _l, c: f"a fire more, hot in {duration(c.minutes)}",
    CostKind.BACK: _back,
    CostKind.SOFTER_BARK: _softer_bark,
    CostKind.DRIER: _drier,
    CostKind.FIRMER: _firmer,
    CostKind.JUICIER_BOARD: lambda _f, _l, c: f"{duration(c.minutes)} less rest: more juice runs out",
    CostKind.NO_MARGIN: lambda f, _l, c: (
        f"no cooler than {names.degrees(f.house, c.celsius or 0.0)} is safe: probe every piece"
    ),
    CostKind.WAIT_AT_CORE: lambda _f, _l, c: f"kept on {duration(c.minutes)} once it is there",
    CostKind.OTHER_EARLIER: lambda f, _l, c: _shifted(f, c, "sooner"),
    CostKind.OTHER_LATER: lambda f, _l, c: _shifted(f, c, "later"),
    CostKind.FEWER: lambda _f, ld, c: f"{c.portions} portions, not {ld.portions}",
    CostKind.SWAPPED: _swapped,
    CostKind.PROBE: lambda f, _l, c: (
        f"probe it as it waits: above {names.degrees(f.house, c.celsius or 0.0)}"
    ),
    CostKind.HELD: lambda f, ld, c: (
        f"waits {duration(c.minutes)} of at most {duration(f.house.cuts[ld.cut].hold_longest_minutes)}"
        if c.minutes >= 1
        else ""
    ),
}


def _left_out(facts: Facts, load: PlannedLoad, one: LeftOut) -> str:
    """Why a remedy is not offered: `raise: South is as hot as it goes`."""
    return f"{_CALLED[one.kind]}: {_why(facts, load, one)}"


_CALLED = {
    Kind.RAISE: "hotter",
    Kind.WRAP: "wrap",
    Kind.RAISE_AND_WRAP: "hotter and wrapped",
    Kind.MOVE: "another pit",
    Kind.PULL_LOWER: "pull cooler",
    Kind.SHORTER_REST: "rest less",
    Kind.OTHER_FIRST: "another load first",
    Kind.LOWER: "cooler",
    Kind.HOLD: "hold",
    Kind.BOX: "box",
    Kind.NOTHING: "nothing",
}


def _why(facts: Facts, load: PlannedLoad, one: LeftOut) -> str:
    house = facts.house
    cut, about = house.cuts[load.cut], one.about
    place = names.place_name(house, about) if about in (*house.pits, *house.holds) else ""
    pieces = _pieces(facts, about) if about and not place else ""
    spoiled = "skin" if cut.handling == _BIRD else "bark"
    says = {
        Reason.AT_ITS_HIGHEST: "as hot as the pit and the cut allow",
        Reason.OTHERS_CANNOT: f"not with the {pieces} on the same pit",
        Reason.OTHER_OVERHELD: f"the {pieces} would wait too long",
        Reason.ALREADY_WRAPPED: "wrapped already",
        Reason.NEVER_WRAPPED: f"never here, it would cost the {spoiled}",
        Reason.CORE_UNKNOWN: "take its temperature first",
        Reason.TOO_SOON: f"too soon, there is no {spoiled} to keep yet",
        Reason.NO_HOTTER_PIT: f"{place} is no hotter" if place else "none takes it",
        Reason.OUT_OF_USE: f"{place} is out of use before it would be done",
        Reason.SET_OTHERWISE: f"{place} is set to another heat for other meat before it would be done",
        Reason.TOO_HOT: f"{place} is hotter than {cut.name} may cook",
        Reason.NO_ROOM: f"no room in {place}",
        Reason.RAW_POULTRY: f"raw poultry and other meat would meet on {place}",
        Reason.MOVED_ONCE: "moved once already",
        Reason.NOT_SAFE: "not safe any cooler",
        Reason.AT_ITS_LEAST: "at its least already",
        Reason.NO_OTHER_LOAD: "none is ready sooner and needed later",
        Reason.NO_HELP: "no help worth it",
        Reason.CORE_TOO_COOL: f"the {pieces} must be read past the danger zone first"
        if pieces
        else "it would cool too far",
        Reason.TOO_LONG: f"longer than the {duration(cut.hold_longest_minutes)} it may be held",
        Reason.NO_HOT_HOLD: "no hold is hot enough for it",
        Reason.OTHERS_LATE: f"the {pieces} would be late",
    }
    return says[one.reason]
