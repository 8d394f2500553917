"""A pit's air from its readings: those mistyped left out, the rest joined to what was asked of the pit.

Between readings the air returns to what is expected, for a swing lasts half an hour, not the night; how
far the pit runs from its setpoint throughout is learned from all of them.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import inf, isnan

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import AirCurve
from board.cooking.pit_air import Opening, Setpoint, expected_air
from board.cooking.readings.left_out import LeftOut, Why
from board.cooking.readings.numbers import number
from board.cooking.sampling import BAND_SD
from board.house.degrees import to_celsius, to_fahrenheit

Floats = NDArray[np.float64]
Reading = tuple[float, float]

KNOT_MINUTES = 5.0
EVENT_SWINGS = 2.0  # a reading further off is of a fire that is low or flares, not of how the pit runs
FARTHEST_SWINGS = 4.0
FEWEST_USUAL = 2
SWINGS_AHEAD = 4.0  # swings after the last reading until nothing of it is left


def measured_air(
    setpoints: Sequence[Setpoint],
    recovery_minutes: float,
    band_k: float,
    readings: Sequence[Reading],
    openings: Sequence[Opening] = (),
) -> AirCurve:
    """The air from loading on, from what a pit of this control band was asked and its (minutes, °C) readings.

    A Gaussian process about the expected air: a lasting departure and swings (data/readings.toml), each
    reading with its own error. Raises CookingError without a setpoint.
    """
    expected = expected_air(setpoints, recovery_minutes, openings=openings)
    kept = sieve_air(expected, readings)[0]
    if not kept:
        return expected
    minutes = np.array([minute for minute, _ in kept])
    off = np.array([celsius for _, celsius in kept]) - expected.over(minutes)
    lasting_sd, swing_sd = BAND_SD * band_k, number("air", "swing_bands") * band_k
    usual = _usual(off, swing_sd)
    lasting, lasting_var = _lasting(minutes[usual], off[usual], lasting_sd, swing_sd)
    knots = _knots(expected, float(minutes[-1]))
    swing = _alike(knots, minutes) @ _solved(minutes, off - lasting, swing_sd)
    return replace(
        expected,
        minutes=tuple(knots.tolist()),
        celsius=tuple((expected.over(knots) + lasting + swing_sd**2 * swing).tolist()),
        measured_until=float(minutes[-1]),
        departure_k=float(np.sqrt(lasting_var + number("air", "thermometer_k") ** 2)),
    )


def sieve_air(expected: AirCurve, readings: Sequence[Reading]) -> tuple[list[Reading], list[LeftOut]]:
    """Readings of a pit's air that count, in order of time, and those that do not.

    One cold reading may be °C taken for °F; two running are a fire that dies.
    """
    order = sorted(range(len(readings)), key=lambda i: (*_sortable(readings[i]), i))
    faults = [_fault(place, *readings[place], expected) for place in order]
    cold = [fault is not None and fault.why is Why.CELSIUS for fault in faults]
    padded = [False, *cold, False]
    believed = [cold[i] and (padded[i] or padded[i + 2]) for i in range(len(cold))]
    kept: list[Reading] = []
    out: list[LeftOut] = []
    for place, fault, counts in zip(order, faults, believed, strict=True):
        if fault is not None and not counts:
            out.append(fault)
        elif kept and kept[-1] == readings[place]:
            out.append(LeftOut(place, *readings[place], Why.TWICE))
        else:
            kept.append(readings[place])
    return kept, out


def _sortable(reading: Reading) -> Reading:
    """A reading by which any can be put in order."""
    minute, celsius = reading
    return minute, inf if isnan(celsius) else celsius


def _fault(place: int, minute: float, celsius: float, expected: AirCurve) -> LeftOut | None:
    """What is wrong with one reading: its time, its unit, or that no pit has such air."""
    near, asked_c = number("air", "unit_fits_k"), expected.at(minute)
    if minute < 0.0:
        return LeftOut(place, minute, celsius, Why.BEFORE)
    for why, meant in ((Why.FAHRENHEIT, to_celsius(celsius)), (Why.CELSIUS, to_fahrenheit(celsius))):
        if abs(meant - asked_c) <= near < abs(celsius - asked_c):
            return LeftOut(place, minute, celsius, why, meant)
    if number("probe", "readable_low_c") <= celsius <= number("air", "highest_c"):
        return None
    return LeftOut(place, minute, celsius, Why.NO_READING)


def _usual(off: Floats, swing_sd: float) -> NDArray[np.bool_]:
    """Which readings tell how the pit runs throughout: near what is expected, else near their own middle."""
    near = abs(off) <= EVENT_SWINGS * swing_sd
    if near.sum() >= FEWEST_USUAL:
        return np.asarray(near)
    return np.asarray(abs(off - np.median(off)) <= EVENT_SWINGS * swing_sd)


def _lasting(minutes: Floats, off: Floats, lasting_sd: float, swing_sd: float) -> tuple[float, float]:
    """How far the pit runs from its setpoint throughout, K, and the variance left of it.

    A departure beyond any swing counts as no more than that.
    """
    off = np.clip(off, -FARTHEST_SWINGS * swing_sd, FARTHEST_SWINGS * swing_sd)
    alike = swing_sd**2 * _alike(minutes, minutes) + number("air", "probe_k") ** 2 * np.eye(len(minutes))
    weights = np.linalg.solve(alike, np.ones(len(minutes)))
    precision = 1.0 / max(lasting_sd, 1e-6) ** 2 + weights.sum()
    return float(weights @ off / precision), float(1.0 / precision)


def _solved(minutes: Floats, off: Floats, swing_sd: float) -> Floats:
    """The swings at the readings, weighed by their likeness and error."""
    alike = swing_sd**2 * _alike(minutes, minutes) + number("air", "probe_k") ** 2 * np.eye(len(minutes))
    return np.asarray(np.linalg.solve(alike, off))


def _alike(one: Floats, other: Floats) -> Floats:
    """How alike the swings of two moments are, 0 to 1."""
    apart = abs(one[:, None] - other[None, :])
    return np.asarray(np.exp(-apart / number("air", "swing_minutes")))


def _knots(expected: AirCurve, last: float) -> Floats:
    """The minutes at which the air is told."""
    until = last + SWINGS_AHEAD * number("air", "swing_minutes")
    return np.unique(np.concatenate([np.arange(0.0, until, KNOT_MINUTES), expected.minutes]))


def carried_over(before: AirCurve, minute: float, after: AirCurve) -> AirCurve:
    """The air a load meets that changes pits: one pit's until a minute, from then on the other's."""
    first = [(m, c) for m, c in before.knots if m < minute]
    first.append((minute, before.at(minute)))
    then = [(minute + m, c) for m, c in after.knots]
    if not then or then[0][0] > minute:
        then.insert(0, (minute, after.celsius[0]))
    knots = [*first, *then]
    return AirCurve(
        tuple(m for m, _ in knots),
        tuple(c for _, c in knots),
        minute + after.measured_until if after.measured_until else min(before.measured_until, minute),
        after.departure_k,
    )
