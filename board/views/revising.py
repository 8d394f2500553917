"""Loads on the pits estimated again from what was measured: their cores, their pits' air, their wraps.

`cook_now` is the cook as it has gone so far and is expected to go on, a planned change of setpoint while it
is ahead and the zone it lies in counted, `sieved_now` its core readings sorted
into those that count and those left out, `estimate_now` the answer of both; `then` asks what other
setpoints would bring, and `expected_of` with `revise` what any other change to the cook would.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from board.cooking.readings.left_out import LeftOut, Why
from board.house.spans import TimeSpan, minutes_between
from board.ledger.state import OFF_AND_THERE, LoadStage, LoadState, Reading, ReadingKey
from board.planning.modes import warmer_here_k
from board.planning.plan import Plan, PlannedLoad
from board.views.doors_ahead import door_minutes_ahead
from board.views.expecting import expected_of
from board.views.facts import Facts, all_loads, load_state, zone_at
from board.views.fed import judged_alike, summed_core
from board.views.pit_history import (
    air_left_out,
    air_of,
    air_readings,
    air_summed,
    first_pit_of,
    pit_of,
    setpoints,
    since,
    warmed,
)
from board.views.progress import LikelyPull
from board.views.turning import turn_ahead, went_astray

if TYPE_CHECKING:
    from board.cooking.cook import AirCurve, Cook, Estimate, Move
    from board.cooking.pit_air import Setpoint
    from board.cooking.readings.revise import Revision
    from board.cooking.readings.sieve import Sieved

_ON_PIT = (LoadStage.ON, LoadStage.WRAPPED)
Pair = tuple[Plan, PlannedLoad]
Fingerprint = tuple[tuple[object, ...], ...]


@dataclass(frozen=True, slots=True)
class Now:
    """One load as estimated now: `expected` holds members, curve and paths before any reading of its core.

    `readings` are its core's, `sieved` (by place in them) sorts them; `revision` is the whole cook's
    minutes from `on_at`, narrowed by those that count; doors opened for other meat after the last of these,
    or since it went on, add `door_minutes` to it, as in the plan.
    """

    load: PlannedLoad
    state: LoadState
    on_at: datetime
    cook: "Cook"
    expected: "Estimate"
    readings: tuple[Reading, ...]
    sieved: "Sieved"
    revision: "Revision"
    door_minutes: float = 0.0

    @property
    def taken(self) -> tuple[tuple[float, float], ...]:
        """The readings that count, as (minutes from loading, °C)."""
        return self.sieved.kept

    @property
    def pull(self) -> TimeSpan:
        """When it is likely pulled."""
        return TimeSpan.after(self.on_at + timedelta(minutes=self.door_minutes), self.revision)


def is_cooking(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    """Whether a load is on a pit now and its cut and pit are known."""
    return load_state(facts, load, plan.day).stage in _ON_PIT and _is_known(facts, plan, load)


def _is_known(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    state = load_state(facts, load, plan.day)
    known = load.cut in facts.house.cuts and pit_of(facts, load, state) in facts.house.pits
    return known and state.on_at is not None


def to_revise(facts: Facts) -> Iterator[Pair]:
    """The loads that may go otherwise than planned: measured, or on a pit not turned when it should be.

    On their pits, or pulled with readings to be sieved.
    """
    for plan, load in all_loads(facts):
        state = load_state(facts, load, plan.day)
        read = bool(facts.readings.get((plan.day, load.id)))
        cooks = state.stage in _ON_PIT
        measured = read or (
            cooks and bool(air_readings(facts, load, state) or went_astray(facts, plan, load))
        )
        if measured and state.stage in _ON_PIT + OFF_AND_THERE and _is_known(facts, plan, load):
            yield plan, load


def fingerprint(facts: Facts) -> Fingerprint:
    """What the revised times depend on: they need no new sum while this stays the same."""
    return tuple((load.id, *_measured(facts, plan, load)) for plan, load in to_revise(facts))


def _measured(facts: Facts, plan: Plan, load: PlannedLoad) -> tuple[object, ...]:
    """What was read of a load and of its pits' air, asked of its pit, and done to it, as it now counts."""
    state = load_state(facts, load, plan.day)
    read = (*_cores(facts, plan, load), *air_summed(facts, load, state))
    asked = facts.asked.get(pit_of(facts, load, state), ())
    place = (state.on_at, state.wrapped_at, state.moved_at, state.zone, state.pulled_at)
    as_read = tuple((r.key, r.at, r.temperature_c, r.is_untimed) for r in read)
    return as_read, asked, turn_ahead(facts, plan, load), *place


def _cores(facts: Facts, plan: Plan, load: PlannedLoad) -> tuple[Reading, ...]:
    """The readings of a load's core that the sums take."""
    return summed_core(facts.readings.get((plan.day, load.id), ()), facts.now)


def cook_now(facts: Facts, plan: Plan, load: PlannedLoad, *, then: Sequence["Setpoint"] = ()) -> "Cook":
    """A load's cook as marked and measured so far: its pits, their air, the time it was wrapped.

    `then` are setpoints asked from given minutes after loading on, beyond what the ledger knows; without
    them the plan's own change of setpoint is ahead until the pit is set. A load not on yet is the planned
    cook.
    """
    from dataclasses import replace  # noqa: PLC0415

    from board.cooking.learning.learn import learn  # noqa: PLC0415 - arrays load at the first reading
    from board.planning.load_cook import cook_of  # noqa: PLC0415 - arrays load at the first reading

    state, cook = load_state(facts, load, plan.day), cook_of(facts.house, load)
    if state.on_at is None:
        return cook
    first = first_pit_of(facts, load, state)
    more = warmer_here_k(facts.house, first, zone_at(facts, load, plan.day, state.on_at))
    return replace(
        cook,
        pit=learn(facts.house).air(facts.house.pits[first], load.cut),
        setpoint_c=setpoints(facts, load, first, state.on_at)[0].celsius + more,
        air=_air_now(facts, plan, load, then or _turn(facts, plan, load, state.on_at)),
        wrap_minute=minutes_between(state.on_at, state.wrapped_at) if state.wrapped_at else None,
        move=_move(facts, plan, load),
    )


def _turn(facts: Facts, plan: Plan, load: PlannedLoad, on_at: datetime) -> "tuple[Setpoint, ...]":
    """The planned change of setpoint as long as it is ahead, in minutes from loading."""
    from board.cooking.pit_air import Setpoint  # noqa: PLC0415 - arrays load at the first reading

    turn = turn_ahead(facts, plan, load)
    return () if turn is None else (Setpoint(minutes_between(on_at, turn.at), turn.celsius),)


def _move(facts: Facts, plan: Plan, load: PlannedLoad) -> "Move | None":
    """The change of pits, where there was one."""
    from board.cooking.cook import Move  # noqa: PLC0415 - arrays load at the first reading
    from board.cooking.learning.learn import learn  # noqa: PLC0415

    state = load_state(facts, load, plan.day)
    if state.on_at is None or state.moved_at is None:
        return None
    there = pit_of(facts, load, state)
    asked = setpoints(facts, load, there, state.moved_at)
    air = learn(facts.house).air(facts.house.pits[there], load.cut)
    more = warmer_here_k(facts.house, there, zone_at(facts, load, plan.day))
    return Move(minutes_between(state.on_at, state.moved_at), air, asked[0].celsius + more)


def _air_now(facts: Facts, plan: Plan, load: PlannedLoad, then: Sequence["Setpoint"]) -> "AirCurve | None":
    """The air a load meets where it lies; None where it is one setpoint throughout and nothing was read."""
    from board.cooking.pit_air import Setpoint  # noqa: PLC0415 - arrays load at the first reading
    from board.cooking.readings.air import carried_over  # noqa: PLC0415

    state = load_state(facts, load, plan.day)
    assert state.on_at is not None
    first, there = first_pit_of(facts, load, state), pit_of(facts, load, state)
    asked = setpoints(facts, load, first, state.on_at)
    more = warmer_here_k(facts.house, first, zone_at(facts, load, plan.day, state.on_at))
    if state.moved_at is None:
        asked += then
        if len(asked) == 1 and not air_readings(facts, load, state):
            return None
        return warmed(air_of(facts, first, asked, state.on_at), more)
    moved = minutes_between(state.on_at, state.moved_at)
    later = [Setpoint(one.minute - moved, one.celsius) for one in then]
    asked_there = [*setpoints(facts, load, there, state.moved_at), *later]
    before = warmed(air_of(facts, first, asked, state.on_at, state.moved_at), more)
    more_there = warmer_here_k(facts.house, there, zone_at(facts, load, plan.day))
    return carried_over(before, moved, warmed(air_of(facts, there, asked_there, state.moved_at), more_there))


def sieved_now(facts: Facts, plan: Plan, load: PlannedLoad, cook: "Cook", expected: "Estimate") -> "Sieved":
    """A load's core readings sorted into those that count and those that do not."""
    from board.cooking.readings.sieve import limits_of, sieve  # noqa: PLC0415 - arrays load at the first reading

    state = load_state(facts, load, plan.day)
    assert state.on_at is not None
    pulled = minutes_between(state.on_at, state.pulled_at) if state.pulled_at else float("inf")
    cores = _cores(facts, plan, load)
    return sieve(
        limits_of(cook, expected),
        since(state.on_at, cores),
        now=minutes_between(state.on_at, facts.now),
        pulled=pulled,
        untimed={place for place, one in enumerate(cores) if one.is_untimed},
    )


def estimate_now(facts: Facts, pairs: Iterable[Pair]) -> dict[str, Now]:
    """Loads that went on as estimated now, by load id; about a tenth of a second for one not asked before."""
    from board.cooking.readings.revise import revise  # noqa: PLC0415 - arrays load at the first reading

    asked = [(plan, load, cook_now(facts, plan, load)) for plan, load in pairs]
    expected = expected_of([cook for _, _, cook in asked])
    found = {}
    for plan, load, cook in asked:
        state = load_state(facts, load, plan.day)
        if state.on_at is None or cook not in expected:
            continue
        sieved = sieved_now(facts, plan, load, cook, expected[cook])
        revision = revise(expected[cook], sieved.kept)
        readings = _cores(facts, plan, load)
        read_at = state.on_at + timedelta(minutes=max(sieved.kept, default=(0.0, 0.0))[0])
        until = state.on_at + timedelta(minutes=revision.p50)
        doors = door_minutes_ahead(facts, plan, load, since=read_at, until=until)
        found[load.id] = Now(
            load, state, state.on_at, cook, expected[cook], readings, sieved, revision, doors
        )
    return found


def revised(facts: Facts) -> dict[str, LikelyPull]:
    """The likely pull times of the loads that were measured, by load id; takes a second or so at first."""
    return revised_loads(facts, to_revise(facts))


def revised_loads(facts: Facts, pairs: Iterable[Pair]) -> dict[str, LikelyPull]:
    """The likely pull times of some loads that went on, by load id."""
    return {id: _likely(facts, now) for id, now in estimate_now(facts, pairs).items()}


def _likely(facts: Facts, now: Now) -> LikelyPull:
    """The likely pull, with the words about what it leaves out."""
    from board.views.left_out import why_left_out  # noqa: PLC0415 - it asks for readings and times of all views

    display, pull = facts.house.display, now.pull
    why = {key: why_left_out(one, display) for key, one in _left_out(facts, now)}
    words = tuple(judged_alike(_all_read(facts, now), why))
    return LikelyPull(pull.p10, pull.p50, pull.p90, now.revision.warning, words)


def _all_read(facts: Facts, now: Now) -> tuple[Reading, ...]:
    """All readings of a load and of the air of its pits, those between what the sums take too."""
    cores = (own for (_, id), own in facts.readings.items() if id == now.load.id)
    return (*(one for own in cores for one in own), *air_readings(facts, now.load, now.state))


def _left_out(facts: Facts, now: Now) -> Iterator[tuple[ReadingKey, LeftOut]]:
    """The readings of a load's core and of its pits' air that do not count, but for those of its rest."""
    for one in now.sieved.left_out:
        if one.why is not Why.AFTER:
            yield now.readings[one.place].key, one
    first, there = first_pit_of(facts, now.load, now.state), pit_of(facts, now.load, now.state)
    yield from air_left_out(facts, now.load, now.state, first, now.on_at)
    if now.state.moved_at is not None:
        yield from air_left_out(facts, now.load, now.state, there, now.state.moved_at)
