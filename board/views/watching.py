"""How each watch stands: its readings, what it must be by when, and when it was last within its limit."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import zip_longest

from board.house.calendar import day_bounds, local
from board.house.model import House
from board.ledger.facts import WatchFacts
from board.ledger.state import LoadStage, Reading, WatchKind
from board.planning.plan import Plan, PlannedLoad
from board.safety import cooling, reheating, tempering
from board.safety.limits import cold_hold_most_c, hot_hold_least_c
from board.safety.limits import cooling as cooling_limits
from board.safety.log import trusted_minutes
from board.safety.thawing import Way, raw_warm_most_minutes
from board.safety.verdict import Checkpoint
from board.views.facts import Facts, load_state


@dataclass(frozen=True, slots=True)
class Target:
    """What food must be by when; `cold` where it must be no hotter, else no colder. `met` once read so."""

    at: datetime
    c: float
    cold: bool
    met: bool

    def is_right(self, celsius: float) -> bool:
        """Whether a temperature is on the right side."""
        return celsius <= self.c if self.cold else celsius >= self.c


@dataclass(frozen=True, slots=True)
class Kept:
    """Food kept on one side of a limit: when it was last read so, and the last reading there is."""

    limit_c: float
    cold: bool
    good_at: datetime
    last: Reading | None

    @property
    def is_out(self) -> bool:
        """Whether the last reading is on the wrong side of the limit."""
        if self.last is None:
            return False
        return self.last.temperature_c > self.limit_c if self.cold else self.last.temperature_c < self.limit_c


def running(facts: Facts) -> Iterator[WatchFacts]:
    """The watches that run: not ended, and what was thawed or tempered not on its pit yet."""
    for watch in facts.watches:
        if watch.ended_at is None and not _went_on(facts, watch):
            yield watch


def _went_on(facts: Facts, watch: WatchFacts) -> bool:
    if watch.kind not in (WatchKind.THAWING, WatchKind.TEMPERING) or watch.load is None:
        return False
    state = facts.loads.get((watch.load_day or facts.today, watch.load))
    return state is not None and state.on_at is not None


def readings_of(facts: Facts, watch: WatchFacts) -> tuple[Reading, ...]:
    """A watch's readings from its start on, in order of time."""
    return tuple(r for r in facts.watched.get(watch.id, ()) if is_since(watch, r))


def is_since(watch: WatchFacts, reading: Reading) -> bool:
    """Whether a reading is of when a watch ran or after; near a wrong clock their order tells too."""
    return reading.at >= watch.started_at or (reading.timing is not None and reading.seq > watch.seq)


def targets(facts: Facts, watch: WatchFacts) -> tuple[Target, ...]:
    """What the food of a watch must be by when, the first first; empty for what is only kept."""
    readings, place = readings_of(facts, watch), facts.house.jurisdiction
    if watch.kind is WatchKind.COOLING:
        began = cooling_began(watch.started_at, readings, place)
        return tuple(_target(began, check, readings) for check in cooling.checkpoints(place))
    if watch.kind is WatchKind.REHEATING:
        return tuple(_target(watch.started_at, check, readings) for check in reheating.checkpoints(place))
    return ()


def cooling_began(started_at: datetime, readings: Sequence[Reading], place: str) -> datetime:
    """When the clock of cooling began: as the food passed its first limit, straight between readings.

    While it is hotter the clock has not begun, and the last reading stands for it. Where no reading is as
    hot, it began with the watch.
    """
    starts_c = cooling_limits(place).starts_c
    began = started_at
    for before, after in zip_longest(readings, readings[1:]):
        if before.temperature_c < starts_c:
            continue
        began = before.at
        if after is not None and after.temperature_c < starts_c:
            share = (before.temperature_c - starts_c) / (before.temperature_c - after.temperature_c)
            began += share * (after.at - before.at)
    return began


def _target(began: datetime, check: Checkpoint, readings: Sequence[Reading]) -> Target:
    cold = check.most_c is not None
    c = check.most_c if check.most_c is not None else check.least_c
    assert c is not None
    target = Target(began + timedelta(minutes=check.after_minutes), c, cold, met=False)
    trusted = timedelta(minutes=trusted_minutes("cooling"))
    met = any(_is_met(target, a, b, trusted) for a, b in zip_longest(readings, readings[1:]))
    return replace(target, met=met)


def _is_met(target: Target, reading: Reading, after: Reading | None, trusted: timedelta) -> bool:
    """Whether a reading in time is right, or the straight line from it to the next comes right in time."""
    if reading.at > target.at or target.is_right(reading.temperature_c):
        return reading.at <= target.at
    if after is None or not target.is_right(after.temperature_c) or after.at - reading.at > trusted:
        return False
    share = (reading.temperature_c - target.c) / (reading.temperature_c - after.temperature_c)
    return reading.at + share * (after.at - reading.at) <= target.at


def kept(facts: Facts, watch: WatchFacts) -> Kept | None:
    """How what is kept hot or cold stands; None for a watch of another kind."""
    readings = readings_of(facts, watch)
    if watch.kind is WatchKind.HOT_HOLD:
        return kept_hot(facts, watch.started_at, readings)
    if watch.kind is WatchKind.COLD_HOLD or (watch.kind is WatchKind.THAWING and watch.way != Way.WATER):
        return kept_cold(facts, watch.started_at, readings)
    return None


def kept_hot(facts: Facts, since: datetime, readings: Sequence[Reading]) -> Kept:
    """How food held hot stands by its readings."""
    return _kept(since, readings, hot_hold_least_c(place=facts.house.jurisdiction), cold=False)


def kept_cold(facts: Facts, since: datetime, readings: Sequence[Reading]) -> Kept:
    """How food held cold stands by its readings."""
    return _kept(since, readings, cold_hold_most_c(facts.house.jurisdiction), cold=True)


def _kept(since: datetime, readings: Sequence[Reading], limit_c: float, *, cold: bool) -> Kept:
    good = [r.at for r in readings if (r.temperature_c <= limit_c if cold else r.temperature_c >= limit_c)]
    return Kept(limit_c, cold, max([since, *good]), readings[-1] if readings else None)


def out_by(facts: Facts, watch: WatchFacts) -> datetime | None:
    """By when raw food out of the cold must cook or be cold again; None for a watch of another kind."""
    place = facts.house.jurisdiction
    if watch.kind is WatchKind.TEMPERING:
        return watch.started_at + timedelta(minutes=tempering.checkpoints(place)[0].after_minutes)
    if watch.kind is WatchKind.THAWING and watch.way == Way.WATER:
        return watch.started_at + timedelta(minutes=raw_warm_most_minutes(place))
    return None


def frozen_days(watch: WatchFacts, today: date) -> tuple[tuple[date, date], ...]:
    """The days a lot was in the freezer, from and to; what is in still is in until today."""
    spans = (part.partition("/")[::2] for part in watch.frozen.split())
    return tuple((date.fromisoformat(a), date.fromisoformat(b) if b else today) for a, b in spans)


def is_frozen(watch: WatchFacts) -> bool:
    """Whether a lot is in the freezer."""
    return watch.frozen.endswith("/")


def made_on(house: House, watch: WatchFacts) -> date:
    """The day the food was made, which is day 1 of its mark."""
    return watch.made_on or local(watch.started_at, house).date()


def end_of(house: House, day: date) -> datetime:
    """The moment a day ends in the house."""
    return day_bounds(day, house.zone)[1]


def holding_since(facts: Facts, plan: Plan, load: PlannedLoad) -> datetime | None:
    """Since when a load is held with something left of it: marked so, or rested; None where it is not."""
    state = load_state(facts, load, plan.day)
    if state.portions_left <= 0:
        return None
    if state.stage is LoadStage.HOLDING:
        return state.holding_at or state.since
    if state.pulled_at is None or state.stage not in (LoadStage.PULLED, LoadStage.RESTING):
        return None
    rested = rested_at(load, state.pulled_at)
    return rested if rested <= facts.now else None


def rested_at(load: PlannedLoad, pulled_at: datetime) -> datetime:
    """When a load has rested, by its plan's rest from its true pull."""
    return pulled_at + (load.ready_at.p50 - load.pull_at.p50)
