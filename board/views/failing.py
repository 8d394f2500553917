"""What is not as its rule asks now, since when, and what the rule then leaves to do."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.degrees import shown_step
from board.house.ringing import limits_of
from board.house.spans import minutes_between
from board.ledger.facts import WatchFacts
from board.ledger.state import Entry, Reading, WatchKind
from board.safety.forecast import foreseen
from board.safety.holding import out_of_heat_minutes
from board.safety.verdict import Answer
from board.views import names
from board.views.days import near_day, when
from board.views.facts import Facts
from board.views.gather import WALK_IN
from board.views.in_use import held_spans, is_held, read_with_food
from board.views.marks import last_day
from board.views.off_pits import with_earlier
from board.views.probes import as_corrected, judged
from board.views.proving import log_of
from board.views.reference import ref
from board.views.subjects import food, is_about
from board.views.text import inert
from board.views.watching import (
    Kept,
    Target,
    end_of,
    holding_since,
    is_frozen,
    kept,
    kept_cold,
    kept_hot,
    out_by,
    readings_of,
    running,
    targets,
)

_AGAIN_C = 74.0  # FDA Food Code 3-403.11: reheated to this for hot holding
_OUT_MINUTES = 240.0  # FDA Food Code 3-501.19: time as the only control
_COOLER_C = 3.0  # a walk-in that keeps 5 °C with its door in use; common practice, no source
_AT_THE_TIME = timedelta(minutes=5)


@dataclass(frozen=True, slots=True)
class Failing:
    """Something that is not as its rule asks: what it is about, since when it is known, and what to do.

    `about` is `watch:ID`, `load:DAY/ID`, `place:ID` or `probe:NAME`; `entry` the reading
    that shows it, where one does. Its `level` rises where it gets worse; `foreseen` has not happened yet.
    """

    about: str
    since: datetime
    says: str
    entry: int | None = None
    level: int = 1
    foreseen: bool = False


def failing(facts: Facts) -> list[Failing]:
    """What stands outside its rule, misses a checkpoint, or is past its last day, and is not answered yet."""
    found = [line for watch in running(facts) for line in _watch_fails(facts, watch)]
    found += [*_holding_fails(facts), *_place_fails(facts), *_probe_fails(facts)]
    return [line for line in found if not any(_answers(entry, line) for entry in facts.acted)]


def _answers(action: Entry, line: Failing) -> bool:
    """Whether an action is about this, and not about something before it."""
    by_entry = line.entry is not None and action.data.get("entry") == line.entry
    return by_entry or (is_about(action, line.about) and action.at >= line.since)


def _watch_fails(facts: Facts, watch: WatchFacts) -> Iterator[Failing]:
    what, house = food(watch), facts.house
    if watch.kind in (WatchKind.COOLING, WatchKind.REHEATING):
        yield from _missed(facts, watch)
    elif watch.kind is WatchKind.DATE_MARKED and not is_frozen(watch):
        day = last_day(house, watch, facts.today)
        if day < facts.today:
            says = f"{what}: past its last day, {near_day(facts, day)}: discard it"
            yield Failing(_key(watch), end_of(house, day), says)
    elif (by := out_by(facts, watch)) is not None:
        if facts.now > by:
            says = f"{what}: to be cooked or cold by {when(facts, by)}: discard it if it was not"
            yield Failing(_key(watch), by, says)
    elif (standing := kept(facts, watch)) is not None and standing.is_out:
        yield _out(facts, _key(watch), what, standing)


def _missed(facts: Facts, watch: WatchFacts) -> Iterator[Failing]:
    every = targets(facts, watch)
    missed = [t for t in every if not t.met and facts.now > t.at]
    if not missed:
        yield from _too_slow(facts, watch, [t for t in every if not t.met])
        return
    target, readings = missed[0], readings_of(facts, watch)
    degrees, clock = names.degrees(facts.house, target.c), when(facts, target.at)
    later = [r for r in readings if r.at >= target.at - _AT_THE_TIME]
    seen = _seen(facts, target, later[0]) if later else "no reading shows it"
    ask = _ask(facts, watch, first=target == every[0])
    says = f"{food(watch)}: to be {degrees} by {clock}, but {seen}: {ask}"
    level = 2 + every.index(target)
    yield Failing(_key(watch), target.at, says, later[0].seq if later else None, level)


def _seen(facts: Facts, target: Target, reading: Reading) -> str:
    """What was read too late for a checkpoint; what is right by then says when it was read."""
    only = f" only at {when(facts, reading.at)}" if target.is_right(reading.temperature_c) else ""
    return f"it was {names.degrees(facts.house, reading.temperature_c)}{only}"


def _too_slow(facts: Facts, watch: WatchFacts, ahead: Sequence[Target]) -> Iterator[Failing]:
    """A checkpoint of cooling that two readings foresee will be missed, while something still helps."""
    readings = readings_of(facts, watch)
    log = log_of(facts.house, readings, cold=True)
    if watch.kind is not WatchKind.COOLING or log is None:
        return
    coming = foreseen(log, _surroundings_c(facts), place=facts.house.jurisdiction)
    late = [one for one in coming if not one.in_time and any(t.c == one.checkpoint.most_c for t in ahead)]
    if late:
        target = next(t for t in ahead if t.c == late[0].checkpoint.most_c)
        degrees, clock = names.degrees(facts.house, target.c), when(facts, target.at)
        says = f"{food(watch)}: too slow to be {degrees} by {clock}, as it cools now"
        last = readings[-1]
        ask = "smaller pans, ice around them, lids off"
        yield Failing(_key(watch), last.at, f"{says}: {ask}", last.seq, foreseen=True)


def _key(watch: WatchFacts) -> str:
    return f"watch:{watch.id}"


def _surroundings_c(facts: Facts) -> float:
    """What cooling food stands in: the walk-in as last read, else a cooler as it should be."""
    readings = facts.kept.get(WALK_IN, ())
    return readings[-1].temperature_c if readings else _COOLER_C


def _ask(facts: Facts, watch: WatchFacts, *, first: bool) -> str:
    """What to do about a missed checkpoint; the second of cooling leaves no other way."""
    if watch.kind is WatchKind.COOLING and first:
        hot = names.degrees(facts.house, _AGAIN_C)
        again = f"reheat it to {hot} within 2 h and cool it again in smaller pans"
        return f"{again}, or discard it; say what was done"
    return "discard it, and say what was done"


def _out(facts: Facts, about: str, what: str, standing: Kept) -> Failing:
    """What is kept on the wrong side of its limit: since when it may be so, and until when there is time."""
    house, last = facts.house, standing.last
    assert last is not None
    side = "above" if standing.cold else "below"
    read, limit = names.degrees(house, last.temperature_c), names.degrees(house, standing.limit_c)
    minutes = _OUT_MINUTES if standing.cold else out_of_heat_minutes(house.jurisdiction)
    discard_at = standing.good_at + timedelta(minutes=minutes)
    until = when(facts, discard_at)
    away = "chill it at once" if standing.cold else f"reheat it to {names.degrees(house, _AGAIN_C)}"
    says = (
        f"{what} read {read} at {when(facts, last.at)}, {side} {limit} since some time after "
        f"{when(facts, standing.good_at)}: {away}, or discard it by {until}"
    )
    return Failing(about, last.at, says, last.seq, 1 if facts.now < discard_at else 2)


def _holding_fails(facts: Facts) -> Iterator[Failing]:
    for plan, load in with_earlier(facts):
        since = holding_since(facts, plan, load)
        if since is None:
            continue
        own = facts.readings.get((plan.day, load.id), ())
        standing = kept_hot(facts, since, [r for r in own if r.at >= since])
        if standing.is_out:
            about = f"load:{ref(plan.day, load.id)}"
            yield _out(facts, about, names.the_pieces(facts.house, load), standing)


def _place_fails(facts: Facts) -> Iterator[Failing]:
    """The walk-in too warm, a hot hold too cool."""
    for place, every in facts.kept.items():
        readings = every if place == WALK_IN else read_with_food(every, held_spans(facts, place))
        if not readings or (readings[-1].probe and place != WALK_IN and not is_held(facts, place)):
            continue
        judge = kept_cold if place == WALK_IN else kept_hot
        standing = judge(facts, readings[0].at, readings)
        if standing.is_out and not _is_door(facts, standing):
            what = "the walk-in" if place == WALK_IN else names.place_name(facts.house, place)
            yield _out(facts, f"place:{place}", what, standing)


def _is_door(facts: Facts, standing: Kept) -> bool:
    """Whether a probe has sent what is out for no longer than a door stands open: air is not food."""
    last = standing.last
    if last is None or last.probe is None:
        return False
    return minutes_between(standing.good_at, last.at) < limits_of(facts.house).pit_minutes


def _probe_fails(facts: Facts) -> Iterator[Failing]:
    """A probe that was too far off when it was last checked: what it read may be wrong."""
    for check in facts.probes:
        found = judged(facts.house, as_corrected(facts, check))
        if found.answer is Answer.FAIL:
            off = f"{shown_step(abs(found.off_by_k), facts.house.display):.1f}°"
            side = "high" if found.off_by_k > 0 else "low"
            says = (
                f"probe {inert(check.subject)} read {off} too {side} at {when(facts, check.at)}: set it "
                "right or take it out of use, look again at what it was trusted for, and say what was done"
            )
            yield Failing(f"probe:{check.subject}", check.at, says, check.seq)
