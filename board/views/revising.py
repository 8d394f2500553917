"""Loads on the pits estimated again from what was measured: their cores, their pits' air, their wraps.

`cook_now` is the cook as it has gone so far and is expected to go on, `taken_now` its core readings that
count and those left out, `estimate_now` the answer of both; `then` asks what another setpoint would bring.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from board.errors import BoardError
from board.house.library import pit_prior
from board.house.model import House
from board.house.spans import Span, TimeSpan
from board.ledger.state import LoadStage, LoadState, Reading
from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts, all_loads, load_state

if TYPE_CHECKING:
    from board.cooking.cook import AirCurve, Cook, Estimate
    from board.cooking.pit_air import Setpoint
    from board.cooking.readings.revise import Revision

MEMBERS = 96
REMEMBERED = 64  # estimates kept for cooks whose pit, air and wrap have not changed
_COOKING = (LoadStage.ON, LoadStage.WRAPPED)
Pair = tuple[Plan, PlannedLoad]
Fingerprint = tuple[tuple[object, ...], ...]
_remembered: "dict[Cook, Estimate]" = {}


@dataclass(frozen=True, slots=True)
class LikelyPull(TimeSpan):
    """When a load is likely pulled; `warning` says why that is only a guess."""

    warning: str | None = None


@dataclass(frozen=True, slots=True)
class Now:
    """One load on its pit as estimated now: `expected` holds members, curve and paths before readings.

    `revision` is the whole cook's minutes from `on_at`, narrowed by `taken` (minutes, °C).
    """

    load: PlannedLoad
    on_at: datetime
    cook: "Cook"
    expected: "Estimate"
    taken: tuple[tuple[float, float], ...]
    revision: "Revision"

    @property
    def pull(self) -> LikelyPull:
        """When it is likely pulled."""
        r = self.revision
        at = TimeSpan.after(self.on_at, Span(r.p10, r.p50, r.p90))
        return LikelyPull(at.p10, at.p50, at.p90, r.warning)


def is_cooking(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    """Whether a load is on a pit now and its cut and pit are known."""
    state = load_state(facts, load, plan.day)
    known = load.cut in facts.house.cuts and _pit_of(facts, load, state) in facts.house.pits
    return state.stage in _COOKING and state.on_at is not None and known


def to_revise(facts: Facts) -> Iterator[Pair]:
    """The loads cooking of which something was measured: their core or their pit's air."""
    for plan, load in all_loads(facts):
        if is_cooking(facts, plan, load) and (
            facts.readings.get((plan.day, load.id)) or _air(facts, plan, load)
        ):
            yield plan, load


def fingerprint(facts: Facts) -> Fingerprint:
    """What the revised times depend on: they need no new sum while this stays the same."""
    return tuple(
        (load.id, *_measured(facts, plan, load), load_state(facts, load, plan.day).wrapped_at)
        for plan, load in to_revise(facts)
    )


def _measured(facts: Facts, plan: Plan, load: PlannedLoad) -> tuple[tuple[object, ...], ...]:
    """What was read of a load and of its pit's air, and asked of that pit."""
    pit = _pit_of(facts, load, load_state(facts, load, plan.day))
    read = (*facts.readings.get((plan.day, load.id), ()), *_air(facts, plan, load))
    return tuple(r.seq for r in read), facts.asked.get(pit, ())


def cook_of(house: House, load: PlannedLoad) -> "Cook":
    """The cook that the sums are asked about for a planned load."""
    from board.cooking.cook import Cook, PitAir  # noqa: PLC0415 - arrays load at the first reading

    cut = house.cuts[load.cut]
    return Cook(
        cut=cut,
        mass_kg=load.mass_kg / load.pieces,
        pieces=load.pieces,
        pit=PitAir.of(house.pits[load.pit]),
        setpoint_c=load.setpoint_c,
        until_core_c=cut.end_core_c,
        tender_minutes=cut.tender_minutes,
        start_c=cut.start_c,
        wrap=cut.wrap,
        rest=None,
        altitude_m=house.altitude_m,
    )


def cook_now(facts: Facts, plan: Plan, load: PlannedLoad, *, then: Sequence["Setpoint"] = ()) -> "Cook":
    """A load's cook as marked and measured so far: its pit, that pit's air, the time it was wrapped.

    `then` are setpoints asked from given minutes after loading on, beyond what the ledger knows. A load
    not on yet is the planned cook.
    """
    from dataclasses import replace  # noqa: PLC0415

    from board.cooking.cook import PitAir  # noqa: PLC0415 - arrays load at the first reading

    state, cook = load_state(facts, load, plan.day), cook_of(facts.house, load)
    if state.on_at is None:
        return cook
    pit = facts.house.pits[_pit_of(facts, load, state)]
    asked = [*_asked(facts, plan, load), *then]
    return replace(
        cook,
        pit=PitAir.of(pit),
        setpoint_c=asked[0].celsius,
        air=_air_curve(facts, plan, load, asked),
        wrap_minute=_minutes(state.on_at, state.wrapped_at) if state.wrapped_at else None,
    )


def taken_now(facts: Facts, plan: Plan, load: PlannedLoad) -> tuple[tuple[float, float], ...]:
    """A load's core readings as (minutes from loading, °C)."""
    on_at = load_state(facts, load, plan.day).on_at
    if on_at is None:
        return ()
    return _since(on_at, facts.readings.get((plan.day, load.id), ()))


def estimate_now(facts: Facts, pairs: Iterable[Pair]) -> dict[str, Now]:
    """Loads on their pits as estimated now, by load id; about a tenth of a second a load not asked before."""
    from board.cooking.estimate import revise  # noqa: PLC0415 - arrays load at the first reading

    asked = [(plan, load, cook_now(facts, plan, load)) for plan, load in pairs]
    expected = expected_of([cook for _, _, cook in asked])
    found = {}
    for plan, load, cook in asked:
        on_at = load_state(facts, load, plan.day).on_at
        if on_at is None or cook not in expected:
            continue
        taken = taken_now(facts, plan, load)
        try:
            found[load.id] = Now(load, on_at, cook, expected[cook], taken, revise(expected[cook], taken))
        except BoardError:
            continue
    return found


def expected_of(cooks: Sequence["Cook"]) -> "dict[Cook, Estimate]":
    """Each cook's estimate with its paths, remembered between calls; one that cannot be is left out."""
    from board.cooking.estimate import estimate  # noqa: PLC0415 - arrays load at the first reading

    new = [cook for cook in dict.fromkeys(cooks) if cook not in _remembered]
    try:
        found = estimate(new, members=MEMBERS, curves=True) if new else []
    except BoardError:
        return _one_by_one(cooks)
    return _kept(cooks, zip(new, found, strict=True))


def _one_by_one(cooks: Sequence["Cook"]) -> "dict[Cook, Estimate]":
    """The estimates of those cooks that can be, where one of them cannot."""
    if len(set(cooks)) == 1:
        return {}
    return {cook: found for one in dict.fromkeys(cooks) for cook, found in expected_of([one]).items()}


def _kept(cooks: Sequence["Cook"], new: "Iterable[tuple[Cook, Estimate]]") -> "dict[Cook, Estimate]":
    """Those asked for, the new ones remembered and the oldest forgotten."""
    known = {cook: _remembered[cook] for cook in cooks if cook in _remembered} | dict(new)
    for cook, found in known.items():
        _remembered.pop(cook, None)
        _remembered[cook] = found
    for cook in list(_remembered)[: max(0, len(_remembered) - REMEMBERED)]:
        _remembered.pop(cook, None)
    return known


def revised(facts: Facts) -> dict[str, LikelyPull]:
    """The likely pull times of the loads that were measured, by load id; takes a second or so at first."""
    return {id: now.pull for id, now in estimate_now(facts, to_revise(facts)).items()}


def _pit_of(facts: Facts, load: PlannedLoad, state: LoadState) -> str:
    """The pit a load is on."""
    return state.pit if state.pit in facts.house.pits else load.pit


def _air(facts: Facts, plan: Plan, load: PlannedLoad) -> tuple[Reading, ...]:
    """The readings of its pit's air since a load went on."""
    state = load_state(facts, load, plan.day)
    readings = facts.air.get(_pit_of(facts, load, state), ())
    return tuple(r for r in readings if state.on_at is not None and r.at >= state.on_at)


def _asked(facts: Facts, plan: Plan, load: PlannedLoad) -> list["Setpoint"]:
    """What its pit was asked for since a load went on: as marked, else as planned."""
    from board.cooking.pit_air import Setpoint  # noqa: PLC0415 - arrays load at the first reading

    state = load_state(facts, load, plan.day)
    marks = facts.asked.get(_pit_of(facts, load, state), ())
    assert state.on_at is not None
    before = [celsius for at, celsius in marks if at <= state.on_at]
    since = [Setpoint(_minutes(state.on_at, at), celsius) for at, celsius in marks if at > state.on_at]
    return [Setpoint(0.0, before[-1] if before else load.setpoint_c), *since]


def _air_curve(facts: Facts, plan: Plan, load: PlannedLoad, asked: Sequence["Setpoint"]) -> "AirCurve | None":
    """The air a load has met and will meet; None where it is one setpoint and nothing was read."""
    from board.cooking.pit_air import expected_air  # noqa: PLC0415 - arrays load at the first reading

    state, readings = load_state(facts, load, plan.day), _air(facts, plan, load)
    if len(asked) == 1 and not readings:
        return None
    assert state.on_at is not None
    kind = facts.house.pits[_pit_of(facts, load, state)].kind
    recovery = pit_prior(kind).recovery_minutes.usual
    return expected_air(asked, recovery, measured=_since(state.on_at, readings))


def _since(on_at: datetime, readings: Iterable[Reading]) -> tuple[tuple[float, float], ...]:
    """Readings as minutes from loading and °C."""
    return tuple((_minutes(on_at, r.at), r.temperature_c) for r in readings)


def _minutes(start: datetime, end: datetime) -> float:
    return (end - start) / timedelta(minutes=1)
