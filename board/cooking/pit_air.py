"""The air a load has met and is expected to meet: readings so far, setpoints to come, lids opened."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp

from board.cooking.cook import AirCurve
from board.cooking.errors import CookingError
from board.cooking.tables import number, room_c

KNOTS_A_RECOVERY = 12
QUICKEST_MINUTES = 1.0  # no air comes back at once


@dataclass(frozen=True, slots=True)
class Setpoint:
    """What the pit is asked for from so many minutes after loading."""

    minute: float
    celsius: float


@dataclass(frozen=True, slots=True)
class Opening:
    """A lid or door opened so many minutes after loading, and for how long."""

    minute: float
    minutes: float = 2.0


def expected_air(
    setpoints: Sequence[Setpoint],
    recovery_minutes: float,
    *,
    openings: Sequence[Opening] = (),
    measured: Sequence[tuple[float, float]] = (),
) -> AirCurve:
    """The air from loading on: as measured where it was, then drawn to what is asked.

    `setpoints` in order of time, the first at or before loading; `measured` are (minutes, °C). Air nears
    its setpoint at a steady share of what is left, 95 % of it in `recovery_minutes`. Raises CookingError
    without a setpoint.
    """
    if not setpoints or setpoints[0].minute > 0.0:
        raise CookingError("the air of a pit needs a setpoint from loading on")
    read = sorted((minute, celsius) for minute, celsius in measured if minute >= 0.0)
    minute, celsius = read[-1] if read else (0.0, setpoints[0].celsius)
    knots = [*read] if read else [(minute, celsius)]
    for moment, event in _events(setpoints, openings, minute):
        knots += _drawn(knots[-1], _asked(setpoints, knots[-1][0]), moment, recovery_minutes)
        if isinstance(event, Opening):
            shut = max(moment + event.minutes, knots[-1][0])  # one lid opened while another stands open
            knots.append((shut, _let_out(knots[-1][1])))
    last = knots[-1][0]
    settled = last + 2.0 * max(recovery_minutes, QUICKEST_MINUTES)
    knots += _drawn(knots[-1], _asked(setpoints, last), settled, recovery_minutes)
    return AirCurve(
        tuple(m for m, _ in knots), tuple(c for _, c in knots), measured_until=read[-1][0] if read else 0.0
    )


def _events(
    setpoints: Sequence[Setpoint], openings: Sequence[Opening], after: float
) -> list[tuple[float, Setpoint | Opening]]:
    """What changes the air after a minute, in order."""
    changes: list[Setpoint | Opening] = [*setpoints, *openings]
    return sorted(((e.minute, e) for e in changes if e.minute > after), key=lambda pair: pair[0])


def _asked(setpoints: Sequence[Setpoint], minute: float) -> float:
    """The setpoint in force at a minute."""
    return [s.celsius for s in setpoints if s.minute <= minute][-1]


def _drawn(
    start: tuple[float, float], towards_c: float, until: float, recovery_minutes: float
) -> list[tuple[float, float]]:
    """Knots from a start towards a setpoint, up to a minute."""
    begin, celsius = start
    if until <= begin:
        return []
    recovery = max(recovery_minutes, QUICKEST_MINUTES)
    constant = recovery / number("pit_air", "recovery", "time_constants")
    curving = [begin + k * recovery / KNOTS_A_RECOVERY for k in range(1, 2 * KNOTS_A_RECOVERY + 1)]
    minutes = [*(m for m in curving if m < until), until]
    return [(m, towards_c + (celsius - towards_c) * exp(-(m - begin) / constant)) for m in minutes]


def _let_out(celsius: float) -> float:
    """The air as the lid closes: part of its warmth has gone."""
    room = room_c()
    return room + (celsius - room) * (1.0 - number("pit_air", "recovery", "open_loss"))
