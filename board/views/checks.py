"""What is to be read, ended or cooled next: the checkpoints of the rules that run, as things due.

A check's key says what doing it takes: `read:PLACE` a temperature of that place or load, `end:WATCH` the
end of a watch, `left:DAY/LOAD` what becomes of what is left of a load, `left:` of each of several,
`out:PIT` the end of a fire.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.calendar import on_shift
from board.ledger.facts import WatchFacts
from board.ledger.state import Reading, WatchKind
from board.ledger.watching import Watched
from board.planning.plan import Plan, PlannedLoad, PlannedStep
from board.safety.limits import cold_hold_most_c, hot_hold_least_c
from board.safety.thawing import Way
from board.safety.verdict import Answer
from board.views import names
from board.views.days import near_day
from board.views.facts import Facts, find_load, load_state
from board.views.gather import WALK_IN
from board.views.leftovers import leftovers, over_since
from board.views.marks import last_day
from board.views.off_pits import off_pits
from board.views.proving import watch_verdict
from board.views.reference import ref
from board.views.subjects import food
from board.views.watching import (
    end_of,
    holding_since,
    is_frozen,
    kept,
    out_by,
    readings_of,
    running,
    targets,
)

PREFIX = "check:"
READ, END, LEFT, OUT = "read:", "end:", "left:", "out:"
MINUTES = 2.0  # what a reading takes; common practice, no source
_BEFORE_FIRST = 60.0  # a second reading of what cools, in time to help it: common practice, no source
_BEFORE_ALL = 120.0
_WALK_IN_BY = timedelta(hours=1)  # into a shift
_WATCHED = {"thaw": WatchKind.THAWING, "temper": WatchKind.TEMPERING}


@dataclass(frozen=True, slots=True)
class Check:
    """One thing due: what doing it takes, when it is due, and how it is said, whole and shortly."""

    key: str
    at: datetime
    says: str
    short: str


def load_of_check(key: str) -> str:
    """The key of the load that a check is about; empty where it is about none."""
    place = key.removeprefix(PREFIX)
    for start in (LEFT, f"{READ}load:"):
        if place.startswith(start):
            return place.removeprefix(start)
    return ""


def checks(facts: Facts, until: datetime) -> list[Check]:
    """The checks due before a moment, in order of time."""
    found = [*_of_watches(facts), *_of_holding(facts), *_leftovers(facts), *_walk_in(facts)]
    return sorted((one for one in found if one.at < until), key=lambda one: (one.at, one.key))


def _of_watches(facts: Facts) -> Iterator[Check]:
    for watch in running(facts):
        if watch.kind in (WatchKind.COOLING, WatchKind.REHEATING):
            yield from _next_target(facts, watch)
        elif watch.kind is WatchKind.DATE_MARKED:
            yield from _last_day(facts, watch)
        else:
            yield from _next_look(facts, watch)


def _read(place: str, at: datetime, what: str, ask: str) -> Check:
    says = f"read {what}: {ask}"
    return Check(f"{PREFIX}{READ}{place}", at, says, says)


def _next_target(facts: Facts, watch: WatchFacts) -> Iterator[Check]:
    """The next reading of what cools or reheats: at the next checkpoint, and once before, in time to help."""
    every, readings = targets(facts, watch), readings_of(facts, watch)
    ahead = [target for target in every if not target.met]
    place, what = f"place:{watch.id}", food(watch)
    if not ahead:
        if every:
            says = f"{what}: {_came_to(facts, watch, readings)}"
            yield Check(f"{PREFIX}{END}{watch.id}", readings[-1].at, says, says)
        return
    target = ahead[0]
    if not readings:
        says = f"read {what}: first reading"
        yield Check(f"{PREFIX}{READ}{place}", watch.started_at, f"{says}, as {watch.kind} begins", says)
        return
    first = target == every[0]
    early = readings[-1].at + timedelta(minutes=_BEFORE_FIRST if first else _BEFORE_ALL)
    if watch.kind is WatchKind.COOLING and len(readings) < 2 and early < target.at:
        yield Check(
            f"{PREFIX}{READ}{place}", early, f"read {what}: is it cooling fast enough?", f"read {what}"
        )
        return
    side = "or colder" if target.cold else "or hotter"
    yield _read(place, target.at, what, f"{names.degrees(facts.house, target.c)} {side}")


def _came_to(facts: Facts, watch: WatchFacts, readings: Sequence[Reading]) -> str:
    """Cold or hot; in time only where the record proves it, which trusts no line over too long a stretch."""
    verdict = watch_verdict(facts.house, watch, readings)
    state = "cold" if watch.kind is WatchKind.COOLING else "hot"
    if verdict is not None and verdict.answer is Answer.PASS:
        return f"{state} in time; put it away"
    return f"{state}, but not shown to be in time; see the record, then put it away or discard it"


def _last_day(facts: Facts, watch: WatchFacts) -> Iterator[Check]:
    if is_frozen(watch):
        return
    day = last_day(facts.house, watch, facts.today)
    says = f"use or discard {food(watch)}: its last day is {near_day(facts, day)}"
    yield Check(f"{PREFIX}{END}{watch.id}", end_of(facts.house, day), says, f"use up {food(watch)}")


def _next_look(facts: Facts, watch: WatchFacts) -> Iterator[Check]:
    """The next reading of what is kept hot or cold, or the end of the time that food may be out."""
    place, what, house = f"place:{watch.id}", food(watch), facts.house
    by = out_by(facts, watch)
    if by is not None:
        cold = names.degrees(house, cold_hold_most_c(house.jurisdiction))
        says = f"{what}: on the fire, or {cold} or colder, by {names.clock(house, by)}"
        yield Check(f"{PREFIX}{END}{watch.id}", by, says, f"{what}: cook or chill")
        return
    standing = kept(facts, watch)
    if standing is None:
        return
    every = house.checks.cold_minutes if standing.cold else house.checks.hot_minutes
    last = standing.last.at if standing.last else watch.started_at
    side = "or colder" if standing.cold else "or hotter"
    ask = f"{names.degrees(house, standing.limit_c)} {side}"
    yield _read(place, last + timedelta(minutes=every), what, ask)


def _of_holding(facts: Facts) -> Iterator[Check]:
    """Readings of the loads that are held hot for what is to come, as often as the house reads them."""
    off = _off(facts)
    for plan, load in off_pits(facts):
        since = holding_since(facts, plan, load)
        if since is None or over_since(facts, plan, load) is not None:
            continue
        readings = [r for r in facts.readings.get((plan.day, load.id), ()) if r.at >= since]
        last = readings[-1].at if readings else since
        at = last + timedelta(minutes=facts.house.checks.hot_minutes)
        ask = f"{names.degrees(facts.house, hot_hold_least_c(place=facts.house.jurisdiction))} or hotter"
        what = f"{names.the_pieces(facts.house, load)}{_which(facts, off, plan, load, ' ({})')}"
        yield _read(f"load:{ref(plan.day, load.id)}", at, what, ask)


def _leftovers(facts: Facts) -> Iterator[Check]:
    """What is left of loads whose services are over, until it is said what became of it.

    Several are one thing due, so that they hide nothing of what comes next.
    """
    left = leftovers(facts)
    if len(left) == 1:
        (one,) = left
        short = f"left: {one.name}, {one.age.says}"
        yield Check(f"{PREFIX}{LEFT}{one.key}", one.since, f"{short}, {one.read}; {one.todo}", short)
    elif left:
        short = f"left of what is over: {len(left)} loads"
        oldest = f"the oldest {left[0].name}, {left[0].age.says}"
        says = f"{short}, {oldest}: say what became of each"
        yield Check(f"{PREFIX}{LEFT}", min(one.since for one in left), says, short)


def _off(facts: Facts) -> Counter[str]:
    """How many loads of each cut are off and not gone."""
    return Counter(load.cut for _, load in off_pits(facts))


def _which(facts: Facts, off: Counter[str], plan: Plan, load: PlannedLoad, join: str) -> str:
    """When a load came off, where others of its cut that are off too could be meant."""
    at = load_state(facts, load, plan.day).pulled_at
    return join.format(f"off {names.clock(facts.house, at)}") if off[load.cut] > 1 and at is not None else ""


def _walk_in(facts: Facts) -> Iterator[Check]:
    """A reading of the walk-in within the first hour of each shift at work now.

    A house is asked from its ledger's first entry on; while there is none, from now.
    """
    house = facts.house
    if not house.checks.walk_in or house.walk_in_kg <= 0 or WALK_IN not in facts.kept:
        return
    began = [came for _, came, went, _ in on_shift(house, facts.now, facts.now) if came <= facts.now < went]
    if not began:
        return
    since = max(*began, facts.began_at or facts.now)
    if not any(r.at >= since for r in facts.kept[WALK_IN]):
        ask = f"{names.degrees(house, cold_hold_most_c(house.jurisdiction))} or colder"
        yield _read(f"place:{WALK_IN}", since + _WALK_IN_BY, "the walk-in", ask)


def watched_by(facts: Facts, plan: Plan, step: PlannedStep) -> Watched | None:
    """What is to be watched from a planned step on: a load that begins to thaw or to temper."""
    kind = _WATCHED.get(step.what)
    load = find_load(plan, step.load)
    if kind is None or load is None:
        return None
    way = str(Way.FRIDGE) if kind is WatchKind.THAWING else None
    return Watched(kind, names.pieces(facts.house, load), load=load.id, way=way)
