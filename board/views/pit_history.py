"""What the pits of a load that cooks were asked for and read since it went on, as the air it has met.

Setpoints and readings of air are of the pit as a whole; what lies in a zone of it meets the same air, hotter
or cooler by what the house says of the zone (`modes.warmer_here_k`).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from board.cooking.readings.left_out import LeftOut, Why
from board.house.library import pit_prior
from board.house.spans import minutes_between
from board.ledger.state import LoadState, Reading, ReadingKey
from board.planning.plan import PlannedLoad
from board.views.facts import Facts
from board.views.fed import summed_air

if TYPE_CHECKING:
    from board.cooking.cook import AirCurve
    from board.cooking.pit_air import Setpoint


def pit_of(facts: Facts, load: PlannedLoad, state: LoadState) -> str:
    """The pit a load is on."""
    return state.pit if state.pit in facts.house.pits else load.pit


def first_pit_of(facts: Facts, load: PlannedLoad, state: LoadState) -> str:
    """The pit a load went on at first, where it was moved since."""
    if state.moved_at is not None and state.moved_from in facts.house.pits:
        return str(state.moved_from)
    return pit_of(facts, load, state)


def warmed(air: "AirCurve", by_k: float) -> "AirCurve":
    """The air of a pit as met in a zone of it."""
    return replace(air, celsius=tuple(celsius + by_k for celsius in air.celsius)) if by_k else air


def air_readings(facts: Facts, load: PlannedLoad, state: LoadState) -> tuple[Reading, ...]:
    """The readings of the air of its pits while a load was on them."""
    first, then = first_pit_of(facts, load, state), pit_of(facts, load, state)
    if first == then or state.moved_at is None:
        return tuple(r for r in facts.air.get(then, ()) if state.on_at and r.at >= state.on_at)
    before = (r for r in facts.air.get(first, ()) if state.on_at and state.on_at <= r.at < state.moved_at)
    return (*before, *(r for r in facts.air.get(then, ()) if r.at >= state.moved_at))


def air_summed(facts: Facts, load: PlannedLoad, state: LoadState) -> tuple[Reading, ...]:
    """Those of them that the sums take."""
    return summed_air(air_readings(facts, load, state), facts.now)


def setpoints(facts: Facts, load: PlannedLoad, pit: str, start: datetime) -> list["Setpoint"]:
    """What a pit was asked for from a moment on, in minutes from it: as marked, else as planned."""
    from board.cooking.pit_air import Setpoint  # noqa: PLC0415 - arrays load at the first reading

    marks = facts.asked.get(pit, ())
    before = [celsius for at, celsius in marks if at <= start]
    since = [Setpoint(minutes_between(start, at), celsius) for at, celsius in marks if at > start]
    return [Setpoint(0.0, before[-1] if before else load.setpoint_c), *since]


def air_of(
    facts: Facts, pit: str, asked: Sequence["Setpoint"], start: datetime, until: datetime | None = None
) -> "AirCurve":
    """A pit's air from a moment on, by what it was asked and read."""
    from board.cooking.readings.air import measured_air  # noqa: PLC0415 - arrays load at the first reading

    known = facts.house.pits[pit]
    recovery = pit_prior(known.kind).recovery_minutes.usual
    air = summed_air(facts.air.get(pit, ()), facts.now)
    read = [r for r in air if r.at >= start and (until is None or r.at < until) and not r.is_untimed]
    return measured_air(asked, recovery, known.control_band_c, since(start, read))


def air_left_out(
    facts: Facts, load: PlannedLoad, state: LoadState, pit: str, start: datetime
) -> list[tuple[ReadingKey, LeftOut]]:
    """The readings of a pit's air from a moment on that do not count, by their key."""
    from board.cooking.pit_air import expected_air  # noqa: PLC0415 - arrays load at the first reading
    from board.cooking.readings.air import sieve_air  # noqa: PLC0415

    recovery = pit_prior(facts.house.pits[pit].kind).recovery_minutes.usual
    read = [r for r in air_summed(facts, load, state) if r.place == pit and r.at >= start]
    expected = expected_air(setpoints(facts, load, pit, start), recovery)
    timed = [r for r in read if not r.is_untimed]
    out = [(timed[one.place].key, one) for one in sieve_air(expected, since(start, timed))[1]]
    return [*out, *_untimed(start, read)]


def _untimed(start: datetime, readings: Sequence[Reading]) -> Iterator[tuple[ReadingKey, LeftOut]]:
    """The readings of which nobody knows when they were taken."""
    for place, one in enumerate(readings):
        if one.is_untimed:
            minute = minutes_between(start, one.at)
            yield one.key, LeftOut(place, minute, one.temperature_c, Why.CLOCK)


def since(start: datetime, readings: Iterable[Reading]) -> tuple[tuple[float, float], ...]:
    """Readings as minutes from a moment and °C."""
    return tuple((minutes_between(start, r.at), r.temperature_c) for r in readings)
