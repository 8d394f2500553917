"""What is not as its rule asks now, since when, and what the rule then leaves to do."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from board.ledger.fold import WatchFacts
from board.ledger.state import WatchKind
from board.safety.forecast import foreseen
from board.views import names
from board.views.days import near_day, when
from board.views.facts import Facts, all_loads
from board.views.gather import WALK_IN
from board.views.marks import last_day
from board.views.proving import log_of
from board.views.reference import ref
from board.views.subjects import food
from board.views.watching import (
    Kept,
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
    """Something that is not as its rule asks: what it is about, what is so, and what to do."""

    about: str
    says: str


def failing(facts: Facts) -> list[Failing]:
    """What stands outside its rule now, what a checkpoint was missed, and what is past its last day."""
    answered = {entry.data.get("watch") for entry in facts.acted}
    found = [
        line for watch in running(facts) if watch.id not in answered for line in _watch_fails(facts, watch)
    ]
    return [*found, *_holding_fails(facts), *_walk_in_fails(facts)]


def _watch_fails(facts: Facts, watch: WatchFacts) -> Iterator[Failing]:
    what, house = food(watch), facts.house
    if watch.kind in (WatchKind.COOLING, WatchKind.REHEATING):
        yield from _missed(facts, watch)
    elif watch.kind is WatchKind.DATE_MARKED and not is_frozen(watch):
        day = last_day(house, watch, facts.today)
        if day < facts.today:
            yield Failing(watch.id, f"{what}: past its last day, {near_day(facts, day)}: discard it")
    elif (by := out_by(facts, watch)) is not None:
        if facts.now > by:
            says = f"{what}: to be cooked or cold by {when(facts, by)}: discard it if it was not"
            yield Failing(watch.id, says)
    elif (standing := kept(facts, watch)) is not None and standing.is_out:
        yield Failing(watch.id, _out(facts, what, standing))


def _missed(facts: Facts, watch: WatchFacts) -> Iterator[Failing]:
    missed = [t for t in targets(facts, watch) if not t.met and facts.now > t.at]
    if not missed:
        yield from _too_slow(facts, watch)
        return
    target, readings = missed[0], readings_of(facts, watch)
    degrees, clock = names.degrees(facts.house, target.c), when(facts, target.at)
    later = [r for r in readings if r.at >= target.at - _AT_THE_TIME]
    seen = f"it was {names.degrees(facts.house, later[0].temperature_c)}" if later else "no reading shows it"
    ask = _ask(facts, watch, first=target == targets(facts, watch)[0])
    yield Failing(watch.id, f"{food(watch)}: to be {degrees} by {clock}, but {seen}: {ask}")


def _too_slow(facts: Facts, watch: WatchFacts) -> Iterator[Failing]:
    """A checkpoint of cooling that two readings foresee will be missed, while something still helps."""
    log = log_of(facts.house, readings_of(facts, watch), cold=True)
    if watch.kind is not WatchKind.COOLING or log is None:
        return
    ahead = [t for t in targets(facts, watch) if not t.met]
    coming = foreseen(log, _surroundings_c(facts), place=facts.house.jurisdiction)
    late = [one for one in coming if not one.in_time and any(t.c == one.checkpoint.most_c for t in ahead)]
    if late:
        target = next(t for t in ahead if t.c == late[0].checkpoint.most_c)
        degrees, clock = names.degrees(facts.house, target.c), when(facts, target.at)
        says = f"{food(watch)}: too slow to be {degrees} by {clock}, as it cools now"
        yield Failing(watch.id, f"{says}: smaller pans, ice around them, lids off")


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


def _out(facts: Facts, what: str, standing: Kept) -> str:
    house = facts.house
    assert standing.last is not None
    side = "above" if standing.cold else "below"
    read, limit = names.degrees(house, standing.last.temperature_c), names.degrees(house, standing.limit_c)
    until = names.clock(house, standing.good_at + timedelta(minutes=_OUT_MINUTES))
    away = "chill it at once" if standing.cold else f"reheat it to {names.degrees(house, _AGAIN_C)}"
    return (
        f"{what} read {read} at {when(facts, standing.last.at)}, {side} {limit} since some time after "
        f"{when(facts, standing.good_at)}: {away}, or discard it by {until}"
    )


def _holding_fails(facts: Facts) -> Iterator[Failing]:
    answered = {(entry.data.get("day"), entry.data.get("load")) for entry in facts.acted}
    for plan, load in all_loads(facts):
        since = holding_since(facts, plan, load)
        if since is None or (plan.day.isoformat(), load.id) in answered:
            continue
        standing = kept_hot(
            facts, since, [r for r in facts.readings.get((plan.day, load.id), ()) if r.at >= since]
        )
        if standing.is_out:
            key = f"load:{ref(plan.day, load.id)}"
            yield Failing(key, _out(facts, names.the_pieces(facts.house, load), standing))


def _walk_in_fails(facts: Facts) -> Iterator[Failing]:
    readings = facts.kept.get(WALK_IN, ())
    answered = {entry.data.get("entry") for entry in facts.acted}
    if readings and readings[-1].seq not in answered:
        standing = kept_cold(facts, readings[0].at, readings)
        if standing.is_out:
            yield Failing(f"entry:{readings[-1].seq}", _out(facts, "the walk-in", standing))
