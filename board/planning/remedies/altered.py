"""One load's cook as it would go on if something were done now; up to then it is as it was."""

from collections.abc import Sequence
from dataclasses import replace
from operator import itemgetter

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
    new = {minute, *(m for m in change.minutes if m > minute)}.difference(before.minutes)
    known = [*before.knots, *((m, before.at(m)) for m in new)]
    knots = sorted(((m, c + change.at(m) - from_c) for m, c in known), key=itemgetter(0))
    return replace(cook, air=_curve(before, knots))


def wrapped_at(cook: Cook, minute: float) -> Cook:
    """Wrapped at a minute in what its cut is wrapped in; `NEVER` leaves it open."""
    return replace(cook, wrap_minute=minute)


def moved_to(cook: Cook, minute: float, pit: PitAir, setpoint_c: float) -> Cook:
    """Carried over at a minute to another pit, whose air where it then lies is `setpoint_c`."""
    before = told(cook)
    past = [(m, c) for m, c in before.knots if m < minute]
    knots = [*past, (minute, before.at(minute)), (minute, setpoint_c)]
    return replace(cook, air=_curve(before, knots), move=Move(minute, pit, setpoint_c))


def pulled_at(cook: Cook, core_c: float) -> Cook:
    """Pulled at another core."""
    return replace(cook, until_core_c=core_c)


def told(cook: Cook) -> AirCurve:
    """The air a cook meets, as a curve where it was one setpoint throughout."""
    return cook.air or AirCurve((0.0,), (cook.setpoint_c,))


def _curve(before: AirCurve, knots: Sequence[tuple[float, float]]) -> AirCurve:
    """Another air, known as far and as well as before."""
    return replace(before, minutes=tuple(m for m, _ in knots), celsius=tuple(c for _, c in knots))
