"""Which core readings of a cook count, and why each other one is left out of the sum.

Nothing is thrown away: what is left out stays in the record, with its reason. No reading is refused: a
wild one is no core's, and that is all it says. Sieving what was kept keeps all of it.
"""

from collections.abc import Sequence, Set
from dataclasses import dataclass
from itertools import pairwise
from math import inf, isnan

import numpy as np
from numpy.typing import NDArray

from board.cooking.readings.chain import Row, chain
from board.cooking.readings.left_out import LeftOut, Why
from board.cooking.readings.limits import Limits, limits_of
from board.cooking.readings.numbers import number
from board.cooking.readings.reasons import Kept, reason
from board.cooking.readings.unit import all_mistyped, in_the_wrong_unit

__all__ = ["LeftOut", "Limits", "Sieved", "Why", "limits_of", "sieve"]

Floats = NDArray[np.float64]
Marks = NDArray[np.bool_]
Reading = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Sieved:
    """The readings that count, in order of time, those that do not, and long stretches without any.

    `kept_places` are the kept readings' places in what was given; `gaps` are (from, to) minutes.
    """

    kept: tuple[Reading, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    kept_places: tuple[int, ...] = ()
    gaps: tuple[tuple[float, float], ...] = ()


def sieve(
    limits: Limits,
    readings: Sequence[Reading],
    *,
    now: float = inf,
    pulled: float = inf,
    untimed: Set[int] = frozenset(),
) -> Sieved:
    """Sort a cook's (minutes from loading, core °C) readings into those that count and those that do not.

    `now` and `pulled` are minutes from loading: later readings do not count. `untimed` are the places of
    those of which nobody knows when they were taken. Order does not matter.
    """
    order = sorted(range(len(readings)), key=lambda i: (*_sortable(readings[i]), i))
    out: dict[int, LeftOut] = {}
    for i in order:
        if (why := Why.CLOCK if i in untimed else _outside(readings[i], now, pulled)) is not None:
            out[i] = LeftOut(i, *readings[i], why)
    left = _without_repeats([i for i in order if i not in out], readings, out)
    found = _all_mistyped(limits, left, readings)
    while found := found or _pass(limits, left, readings):
        out |= {one.place: one for one in found}
        left, found = [i for i in left if i not in out], []
    kept = tuple(readings[i] for i in left)
    return Sieved(kept, tuple(out[i] for i in order if i in out), tuple(left), _gaps(kept))


def _sortable(reading: Reading) -> Reading:
    """A reading by which any can be put in order."""
    minute, core_c = reading
    return (inf if isnan(minute) else minute, inf if isnan(core_c) else core_c)


def _outside(reading: Reading, now: float, pulled: float) -> Why | None:
    """Why a reading is none, or of no moment of this cook."""
    minute, core_c = reading
    if not number("probe", "readable_low_c") <= core_c <= number("probe", "readable_high_c"):
        return Why.NO_READING
    if not -inf < minute < inf:
        return Why.NO_READING
    if minute < 0.0:
        return Why.BEFORE
    return Why.AHEAD if minute > now else Why.AFTER if minute > pulled else None


def _without_repeats(order: list[int], readings: Sequence[Reading], out: dict[int, LeftOut]) -> list[int]:
    """Leave out the same digits entered again at the same moment."""
    last: dict[float, float] = {}
    for i in order:
        minute, core_c = readings[i]
        if minute - last.get(core_c, -inf) <= number("probe", "same_moment_minutes"):
            out[i] = LeftOut(i, minute, core_c, Why.TWICE)
        else:
            last[core_c] = minute
    return [i for i in order if i not in out]


def _all_mistyped(limits: Limits, left: list[int], readings: Sequence[Reading]) -> list[LeftOut]:
    """What to leave out of a cook whose readings were typed in the other scale throughout."""
    minutes, core = _arrays(left, readings)
    if not left or (found := all_mistyped(limits, minutes, core)) is None:
        return []
    which = np.flatnonzero(found.bad)
    return [LeftOut(left[k], *readings[left[k]], found.why, float(found.meant_c[k])) for k in which]


def _arrays(left: list[int], readings: Sequence[Reading]) -> tuple[Floats, Floats]:
    """The minutes and the cores of some readings."""
    return np.array([readings[i][0] for i in left]), np.array([readings[i][1] for i in left])


def _pass(limits: Limits, left: list[int], readings: Sequence[Reading]) -> list[LeftOut]:
    """What to leave out next: what no core can be, else what does not follow, else what is stuck."""
    minutes, core = _arrays(left, readings)
    bad = _impossible(limits, minutes, core) | in_the_wrong_unit(limits, minutes, core)
    if not bad.any():
        bad = ~chain(Row.of(minutes, core, limits))
    if not bad.any():
        stuck = np.flatnonzero(_stuck(limits, minutes, core))
        return [LeftOut(left[k], minutes[k], core[k], Why.STUCK) for k in stuck]
    kept = Kept(minutes[~bad], core[~bad], limits)
    return [reason(left[k], float(minutes[k]), float(core[k]), kept) for k in np.flatnonzero(bad)]


def _impossible(limits: Limits, minutes: Floats, core: Floats) -> Marks:
    """Readings that no core of this cook can be, whatever the others say."""
    start = (minutes == 0.0) & (abs(core - limits.start_c) > number("probe", "start_k"))
    return np.asarray(start | (core > limits.highest(minutes)) | (core < limits.coldest_c))


def _stuck(limits: Limits, minutes: Floats, core: Floats) -> Marks:
    """The same digits again and again while even the slowest member rises: all but the first of them."""
    bad = np.zeros(len(core), dtype=bool)
    edges = np.flatnonzero(np.diff(core, prepend=np.nan, append=np.nan) != 0.0)
    for first, after in pairwise(edges.tolist()):
        span = float(minutes[after - 1] - minutes[first])
        if after - first >= number("meaning", "stuck_readings") and span >= number(
            "meaning", "stuck_minutes"
        ):
            bad[first + 1 : after] = limits.least_rise(float(core[first]), span) > number(
                "meaning", "stuck_k"
            )
    return bad


def _gaps(kept: Sequence[Reading]) -> tuple[tuple[float, float], ...]:
    """Stretches from loading on without a reading that are worth telling."""
    times = [0.0, *(minute for minute, _ in kept)]
    long = max(number("meaning", "gap_minutes"), 0.25 * times[-1])
    return tuple((a, b) for a, b in pairwise(times) if b - a > long)
