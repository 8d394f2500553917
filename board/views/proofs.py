"""What the record of a span proves: of each load that came off, each watch, each hold and the walk-in."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from enum import StrEnum
from functools import partial

from board.house.calendar import local
from board.house.model import House
from board.house.ringing import limits_of
from board.house.wording import count, duration
from board.ledger import read
from board.ledger.counted import Counted, counted_between
from board.ledger.facts import WatchFacts
from board.ledger.off_pits import last_sale
from board.ledger.open import Ledger
from board.ledger.state import Entry, LoadState, Reading, WatchEnd, WatchKind
from board.safety.holding import held_cold, held_hot
from board.safety.limits import cold_hold_most_c, hot_hold_least_c
from board.safety.verdict import Answer, Verdict
from board.views import names
from board.views.alarm import spell
from board.views.facts import Facts, Key, find_load
from board.views.fed import gaps_in, without_doors
from board.views.gather import WALK_IN, corrections
from board.views.in_use import held_spans
from board.views.marks import last_day
from board.views.proving import EMPTY, cook_verdict, log_of, proved, watch_verdict
from board.views.reference import ref
from board.views.subjects import food, is_about
from board.views.unread import Hold, with_unread
from board.views.watching import is_frozen, is_since, rested_at

_A_MOMENT = timedelta(microseconds=1)  # the facts of a span are of the last one in it
_ON_BEFORE = timedelta(days=3)  # a load that comes off in a span went on at most so long before


class Section(StrEnum):
    """What a proof is about."""

    COOKED = "cooked"
    HOLDING = "holding"
    COOLING = "cooling, reheating, thawing"
    MARKS = "date marks"


_SECTIONS: Mapping[WatchKind, Section] = {
    WatchKind.HOT_HOLD: Section.HOLDING,
    WatchKind.COLD_HOLD: Section.HOLDING,
    WatchKind.DATE_MARKED: Section.MARKS,
}


@dataclass(frozen=True, slots=True)
class Proof:
    """What the readings of one thing prove, what became of it, and what was done about it.

    `key` is `load:DAY/ID`, `watch:ID` or `place:ID`; `ended` says what became of it, empty while it runs.
    `failed` tells what is certainly not as its rule asks.
    """

    section: Section
    key: str
    what: str
    at: datetime
    verdict: Verdict | None
    readings: tuple[Reading, ...]
    ended: str = ""
    actions: tuple[Entry, ...] = ()
    failed: bool = False


def span_facts(ledger: Ledger, house: House, since: datetime, until: datetime) -> Facts:
    """The facts of an older span, as far as its entries and proofs need them."""
    days = _days(house, since - _ON_BEFORE, until)
    plans = {
        day: read.current_plan(ledger, day)
        for day in read.planned_days(ledger, days[0], days[-1] + timedelta(days=6))
    }
    later = read.entries(ledger, kinds=("correction", "action"))
    times = counted_between(ledger, since - _ON_BEFORE, until)
    watches = times.watches(since, until)
    return Facts(
        house=house,
        now=until - timedelta(microseconds=1),  # the last moment of the span, not the first of the next day
        plans={day: plan for day, plan in plans.items() if plan is not None},
        loads={(s.day, s.id): s for s in times.loads(read.load_states(ledger, days[0], days[-1]))},
        watches=tuple(watches),
        watched={w.id: tuple(times.readings(place=w.id)) for w in watches},
        corrected=corrections(later),
        acted=tuple(e for e in later if e.kind == "action" and not e.undone),
    )


def _days(house: House, since: datetime, until: datetime) -> list[date]:
    first, last = local(since, house).date(), local(until, house).date()
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def proofs(ledger: Ledger, facts: Facts, since: datetime, until: datetime) -> list[Proof]:
    """All that a span proves, the loads first, each part in order of time."""
    times = counted_between(ledger, since - _ON_BEFORE, until)
    found = [
        *_loads(times, facts, since, until),
        *_holding(ledger, times, facts, since, until),
        *_watches(facts),
        *_places(times, facts, since, until),
    ]
    order = list(Section)
    told = (_answered(facts, proof) for proof in found)
    return sorted(told, key=lambda proof: (order.index(proof.section), proof.at, proof.key))


def _loads(times: Counted, facts: Facts, since: datetime, until: datetime) -> Iterator[Proof]:
    for (day, id), state in facts.loads.items():
        load = find_load(facts.plans.get(day), id)
        if load is None or state.pulled_at is None or not since <= state.pulled_at < until:
            continue
        readings = tuple(times.readings(load=id, day=day, since=state.on_at, until=until))
        verdict = cook_verdict(facts.house, load, readings)
        key = f"load:{ref(day, id)}"
        yield Proof(
            Section.COOKED,
            key,
            names.pieces(facts.house, load),
            state.pulled_at,
            verdict,
            readings,
            _load_end(facts, state),
        )


def _load_end(facts: Facts, state: LoadState) -> str:
    if state.lost_at is not None:
        return f"lost {names.clock(facts.house, state.lost_at)}"
    return f"served {names.clock(facts.house, state.served_at)}" if state.served_at else ""


def _holding(
    ledger: Ledger, times: Counted, facts: Facts, since: datetime, until: datetime
) -> Iterator[Proof]:
    """Loads that were held at some time of a span, from when they went in until they were gone, or now.

    Where nobody marked the hold it is from the end of the rest on, if it was read then or was due to be.
    """
    cooled = _cooling_began(times, since, until)
    for (day, id), state in facts.loads.items():
        load = find_load(facts.plans.get(day), id)
        if load is None or state.pulled_at is None:
            continue
        began = state.holding_at or rested_at(load, state.pulled_at)
        gone = (*cooled.get((day, id), ()), *_gone(ledger, times, state))
        ended = min(until, facts.now + _A_MOMENT, *gone)
        hold = Hold(began, ended, facts.house.checks.hot_minutes)
        if not max(since, began) < hold.ended:
            continue
        readings = tuple(times.readings(load=id, day=day, since=began, until=hold.ended))
        if not readings and state.holding_at is None and not hold.is_due:
            continue
        verdict = with_unread(
            facts.house, hold, readings, proved(facts.house, readings, partial(_held, facts.house))
        )
        what = f"{names.pieces(facts.house, load)}, hot hold"
        key, became = f"load:{ref(day, id)}", _load_end(facts, state)
        yield Proof(Section.HOLDING, key, what, began, verdict, readings, became)


def _cooling_began(times: Counted, since: datetime, until: datetime) -> dict[Key, tuple[datetime]]:
    """When loads were set to cool, which ends their hold: the first time of each."""
    watches = (one for one in times.watches(since - _ON_BEFORE, until) if one.kind is WatchKind.COOLING)
    found: dict[Key, tuple[datetime]] = {}
    for one in watches:
        if one.load is not None and one.load_day is not None:
            found.setdefault((one.load_day, one.load), (one.started_at,))
    return found


def _gone(ledger: Ledger, times: Counted, state: LoadState) -> Iterator[datetime]:
    """When a load was marked as gone, or the last of it was sold."""
    marked = [at for at in (state.served_at, state.lost_at) if at is not None]
    yield from marked
    if not marked and state.portions_left <= 0:
        sale = last_sale(ledger, state.day, state.id)
        if sale is not None:
            yield times.at(sale)


def _held(house: House, readings: Sequence[Reading]) -> Verdict:
    return held_hot(log_of(house, readings) or EMPTY, place=house.jurisdiction)


def _watches(facts: Facts) -> Iterator[Proof]:
    for watch in facts.watches:
        readings = tuple(r for r in facts.watched.get(watch.id, ()) if _during(r, watch))
        section = _SECTIONS.get(watch.kind, Section.COOLING)
        what = f"{food(watch)}, {watch.kind}"
        if watch.kind is WatchKind.DATE_MARKED:
            what += f", last day {last_day(facts.house, watch, facts.today).isoformat()}"
        yield Proof(
            section,
            f"watch:{watch.id}",
            what,
            watch.started_at,
            _watch_verdict(facts, watch, readings),
            readings,
            _watch_end(facts, watch),
            failed=_kept_too_long(facts, watch),
        )


def _watch_verdict(facts: Facts, watch: WatchFacts, readings: tuple[Reading, ...]) -> Verdict | None:
    """What the readings of a watch prove; of what is only kept, at its ends too."""
    verdict, checks = watch_verdict(facts.house, watch, readings), facts.house.checks
    every = {WatchKind.HOT_HOLD: checks.hot_minutes, WatchKind.COLD_HOLD: checks.cold_minutes}.get(watch.kind)
    if verdict is None or every is None:
        return verdict
    hold = Hold(watch.started_at, min(facts.now, watch.ended_at or facts.now), every)
    return with_unread(facts.house, hold, readings, verdict)


def _kept_too_long(facts: Facts, watch: WatchFacts) -> bool:
    """Whether a date-marked lot was used after its last day, or is there still."""
    if watch.kind is not WatchKind.DATE_MARKED or is_frozen(watch) or watch.how is WatchEnd.DISCARDED:
        return False
    day = local(watch.ended_at, facts.house).date() if watch.ended_at else facts.today
    return day > last_day(facts.house, watch, facts.today)


def _during(reading: Reading, watch: WatchFacts) -> bool:
    first_at = min(reading.at, reading.or_at)
    return is_since(watch, reading) and (watch.ended_at is None or first_at <= watch.ended_at)


def _watch_end(facts: Facts, watch: WatchFacts) -> str:
    if watch.ended_at is None or watch.how is None:
        return ""
    who = names.person_name(facts.house, watch.ended_by)
    return f"{watch.how} {names.clock(facts.house, watch.ended_at)} by {who}"


def _places(times: Counted, facts: Facts, since: datetime, until: datetime) -> Iterator[Proof]:
    """The walk-in, and each hot hold whose air was read."""
    house = facts.house
    hot = [id for id, hold in house.holds.items() if hold.setpoint_c is not None]
    for place in (WALK_IN, *hot):
        readings = tuple(times.readings(place=place, since=since, until=until))
        if any(one.probe for one in readings) and place != WALK_IN:
            yield from _with_food(facts, place, readings)
        elif readings:
            yield _place(house, place, f"place:{place}", readings)


def _with_food(facts: Facts, place: str, readings: Sequence[Reading]) -> Iterator[Proof]:
    """What is shown of a hot hold whose air is fed, each time food was in it; and by hand at other times."""
    spans = held_spans(facts, place)
    others = tuple(r for r in readings if r.probe is None and not any(a <= r.at <= b for a, b in spans))
    if others:
        yield _place(facts.house, place, f"place:{place}", others)
    for start, end in spans:
        own = tuple(one for one in readings if start <= one.at <= end)
        if own:
            yield _place(facts.house, place, f"place:{place}/{spell(start)}", own)


def _place(house: House, place: str, key: str, readings: tuple[Reading, ...]) -> Proof:
    """What is shown of the air of one place, its door openings left out where a probe sent them."""
    is_cold, at = place == WALK_IN, house.jurisdiction
    limit_c = cold_hold_most_c(at) if is_cold else hot_hold_least_c(place=at)
    minutes = limits_of(house).pit_minutes

    def is_out(celsius: float) -> bool:
        return celsius > limit_c if is_cold else celsius < limit_c

    def judge(some: Sequence[Reading]) -> Verdict:
        counting = without_doors(some, is_out, minutes)[0]
        log = log_of(house, counting, cold=is_cold, gaps=gaps_in(house, some)) or EMPTY
        return (held_cold if is_cold else held_hot)(log, place=at)

    verdict, doors = proved(house, readings, judge), without_doors(readings, is_out, minutes)[1]
    aside = f", {count(doors, 'door opening')} under {duration(minutes)} left out" if doors else ""
    what = names.place_name(house, place) + aside
    return Proof(Section.HOLDING, key, what, readings[0].at, verdict, readings)


def _answered(facts: Facts, proof: Proof) -> Proof:
    """A proof with what was done about it, and whether it failed."""
    actions = tuple(actions_about(facts.acted, proof.key, proof.readings))
    fails = proof.verdict is not None and proof.verdict.answer is Answer.FAIL
    discarded = proof.ended.startswith(WatchEnd.DISCARDED) and proof.section is not Section.MARKS
    return replace(proof, actions=actions, failed=proof.failed or fails or discarded)


def actions_about(acted: Iterable[Entry], key: str, readings: Sequence[Reading]) -> Iterator[Entry]:
    """What was done about a thing: said of it by its key, or of one of its readings."""
    seqs = {reading.seq for reading in readings}
    return (entry for entry in acted if is_about(entry, key) or entry.data.get("entry") in seqs)
