"""Alarms about fires: a pit with meat on it that was read off what was asked of it, or not read for long."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.degrees import shown_step
from board.house.library import pit_prior
from board.house.model import AlarmLimits
from board.house.spans import minutes_between
from board.house.wording import duration
from board.ledger.state import LoadStage, Reading
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.alarm import Alarm, AlarmKind, spell
from board.views.days import when
from board.views.facts import Facts, all_loads, load_state, pit_at
from board.views.left_out import all_left_out
from board.views.progress import Revised
from board.views.reference import ref
from board.views.text import Tone

_ON = (LoadStage.ON, LoadStage.WRAPPED)
_FAR = 2.0  # so many times what is allowed: a fire that is out, or runs away


@dataclass(frozen=True, slots=True)
class _Stray:
    """A stretch of readings off the setpoint that has not ended: since when, and how far it was last, K."""

    since: datetime
    last: Reading
    off_k: float


def pit_alarms(facts: Facts, limits: AlarmLimits, revised: Revised | None) -> Iterator[Alarm]:
    """The pits that meat is on and whose air strays, or that nobody has looked at."""
    left_out = all_left_out(revised)
    for pit in facts.house.pits:
        loads = [(p, ld) for p, ld in all_loads(facts) if _is_on(facts, p, ld, pit)]
        if loads:
            air = [r for r in facts.air.get(pit, ()) if r.key not in left_out]
            yield from _strays(facts, limits, pit, loads, air)
            yield from _unread(facts, limits, pit, loads, air)


def _is_on(facts: Facts, plan: Plan, load: PlannedLoad, pit: str) -> bool:
    return load_state(facts, load, plan.day).stage in _ON and pit_at(facts, load, plan.day) == pit


def _strays(
    facts: Facts,
    limits: AlarmLimits,
    pit: str,
    loads: Sequence[tuple[Plan, PlannedLoad]],
    air: Sequence[Reading],
) -> Iterator[Alarm]:
    known = facts.house.pits[pit]
    allowed_k = known.control_band_c if limits.pit_off_k is None else limits.pit_off_k
    stray = _stray(facts, pit, loads, air, allowed_k)
    if stray is None or minutes_between(stray.since, facts.now) < limits.pit_minutes:
        return
    house, off = facts.house, round(shown_step(abs(stray.off_k), facts.house.display))
    is_low = stray.off_k < 0
    lasted = duration(minutes_between(stray.since, facts.now))
    read = f"{known.name} read {names.degrees(house, stray.last.temperature_c)}"
    at = "" if stray.last.at == stray.since else f" at {when(facts, stray.last.at)}"
    yield Alarm(
        key=f"pit/{pit}/{spell(stray.since)}",
        level=2 if abs(stray.off_k) > _FAR * allowed_k else 1,
        kind=AlarmKind.PIT,
        says=f"{read}{at}, {off}° {'under' if is_low else 'over'} what was asked, for {lasted}",
        todo=f"{'see to the fire' if is_low else 'close its air'}, and read it again",
        tone=Tone.CARE,
        since=stray.since,
        load=_first(loads),
        do=f"place:{pit}",
    )


def _stray(
    facts: Facts,
    pit: str,
    loads: Sequence[tuple[Plan, PlannedLoad]],
    air: Sequence[Reading],
    allowed_k: float,
) -> _Stray | None:
    """The stretch off the setpoint that the last reading is in; none while the pit still comes to it."""
    asked, coming = facts.asked.get(pit, ()), _coming(facts, pit, loads)
    since: datetime | None = None
    found: _Stray | None = None
    for reading in air:
        if any(start <= reading.at < end for start, end in coming):
            continue
        before = [celsius for at, celsius in asked if at <= reading.at]
        off_k = reading.temperature_c - (before[-1] if before else loads[0][1].setpoint_c)
        if abs(off_k) <= allowed_k:
            since = found = None
            continue
        since = since or reading.at
        found = _Stray(since, reading, off_k)
    return found


def _coming(
    facts: Facts, pit: str, loads: Sequence[tuple[Plan, PlannedLoad]]
) -> list[tuple[datetime, datetime]]:
    """The stretches in which a pit comes to its setpoint: after lighting, after a turn, after cold meat."""
    known, state = facts.house.pits[pit], facts.pits.get(pit)
    recovery = timedelta(minutes=pit_prior(known.kind).recovery_minutes.usual)
    turned = max(recovery, timedelta(minutes=known.change_over_minutes))
    found = [(at, at + turned) for at, _ in facts.asked.get(pit, ())]
    if state is not None and state.lit_at is not None:
        found.append((state.lit_at, state.lit_at + timedelta(minutes=known.warm_up_minutes)))
    begun = (load_state(facts, load, plan.day).on_at for plan, load in loads)
    return [*found, *((on_at, on_at + recovery) for on_at in begun if on_at is not None)]


def _unread(
    facts: Facts,
    limits: AlarmLimits,
    pit: str,
    loads: Sequence[tuple[Plan, PlannedLoad]],
    air: Sequence[Reading],
) -> Iterator[Alarm]:
    cores = [r.at for plan, load in loads for r in facts.readings.get((plan.day, load.id), ())]
    marks = [at for at, _ in facts.asked.get(pit, ())]
    begun = [on for plan, load in loads if (on := load_state(facts, load, plan.day).on_at) is not None]
    last = max([*cores, *marks, *begun, *(r.at for r in air)], default=None)
    if last is None or minutes_between(last, facts.now) < limits.pit_unread_minutes:
        return
    meat = names.all_pieces(facts.house, [load for _, load in loads])
    yield Alarm(
        key=f"unread/{pit}/{spell(last)}",
        level=1 if minutes_between(last, facts.now) < _FAR * limits.pit_unread_minutes else 2,
        kind=AlarmKind.PIT,
        says=f"{names.pit_name(facts.house, pit)}, {meat}: nothing read since {when(facts, last)}",
        todo="read its air and a core",
        tone=Tone.CARE,
        since=last + timedelta(minutes=limits.pit_unread_minutes),
        load=_first(loads),
        do=f"place:{pit}",
    )


def _first(loads: Sequence[tuple[Plan, PlannedLoad]]) -> str:
    plan, load = min(loads, key=lambda pair: (pair[1].needed_at, pair[1].id))
    return ref(plan.day, load.id)
