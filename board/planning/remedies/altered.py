"""One load's cook as it would go on if something were done now; up to then it is as it was."""

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import replace

from board.cooking.cook import AirCurve, Cook, Move, PitAir
from board.cooking.pit_air import Setpoint, expected_air
from board.house.library import pit_prior

NEVER = float("inf")


def set_to(cook: Cook, minute: float, from_c: float, to_c: float) -> Cook:
    """The pit asked for `to_c` instead of `from_c` at a minute: its air moves by as much, as it recovers.

    What was expected beyond the setpoint, such as a pit that runs cool, stays.
    """
    kind = (cook.move.pit if cook.move else cook.pit).kind
    asked = [Setpoint(0.0, from_c), Setpoint(minute, to_c)]
    change = expected_air(asked, pit_prior(kind).recovery_minutes.usual)
    before = told(cook)
    knots = sorted({*before.minutes, minute, *(m for m in change.minutes if m > minute)})
    moved = [air_at(before, m) + air_at(change, m) - from_c for m in knots]
    return replace(cook, air=replace(before, minutes=tuple(knots), celsius=tuple(moved)))


def wrapped_at(cook: Cook, minute: float) -> Cook:
    """Wrapped at a minute in what its cut is wrapped in; `NEVER` leaves it open."""
    return replace(cook, wrap_minute=minute)


def moved_to(cook: Cook, minute: float, pit: PitAir, setpoint_c: float) -> Cook:
    """Carried over at a minute to another pit, which burns at `setpoint_c`."""
    before = told(cook)
    past = [(m, c) for m, c in _knots(before) if m < minute]
    knots = [*past, (minute, air_at(before, minute)), (minute, setpoint_c)]
    air = replace(before, minutes=tuple(m for m, _ in knots), celsius=tuple(c for _, c in knots))
    return replace(cook, air=air, move=Move(minute, pit, setpoint_c))


def pulled_at(cook: Cook, core_c: float) -> Cook:
    """Pulled at another core."""
    return replace(cook, until_core_c=core_c)


def told(cook: Cook) -> AirCurve:
    """The air a cook meets, as a curve where it was one setpoint throughout."""
    return cook.air or AirCurve((0.0,), (cook.setpoint_c,))


def air_at(air: AirCurve, minute: float) -> float:
    """The air at a minute, straight between knots, flat beyond them."""
    after = bisect_right(air.minutes, minute)
    if after == 0 or after == len(air.minutes):
        return air.celsius[0 if after == 0 else -1]
    m0, m1 = air.minutes[after - 1], air.minutes[after]
    c0, c1 = air.celsius[after - 1], air.celsius[after]
    return c0 + (c1 - c0) * (minute - m0) / (m1 - m0)


def _knots(air: AirCurve) -> Iterable[tuple[float, float]]:
    return zip(air.minutes, air.celsius, strict=True)
