"""How many planted faults the sieve finds in a core's readings, and how many honest ones it loses.

python -m tests.bench.cooking_sieve [TRUTHS]
"""

import sys
from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook
from board.cooking.readings.sieve import Limits, sieve
from tests.bench.cooking_truths import COOKS, Truth, limits, truths_of, wider

Floats = NDArray[np.float64]
Planted = tuple[Floats, Floats, set[int]]
Fault = Callable[[Floats, Floats, float, np.random.Generator], Planted]

SHOWS_K = 8.0  # a fault that moves a reading by less is none worth finding
PROBE_SD_K = 0.7


def _at(minutes: Floats, core: Floats, rng: np.random.Generator) -> tuple[Floats, Floats, int]:
    """Copies to spoil, and a place to spoil them at."""
    return minutes.copy(), core.copy(), int(rng.integers(0, len(minutes)))


def fahrenheit(minutes: Floats, core: Floats, _air_c: float, rng: np.random.Generator) -> Planted:
    """°F typed as °C."""
    minutes, core, k = _at(minutes, core, rng)
    core[k] = np.round(core[k] * 1.8 + 32.0)
    return minutes, core, {k}


def celsius(minutes: Floats, core: Floats, _air_c: float, rng: np.random.Generator) -> Planted:
    """°C typed as °F."""
    minutes, core, k = _at(minutes, core, rng)
    core[k] = (np.round(core[k]) - 32.0) / 1.8
    return minutes, core, {k}


def spike(minutes: Floats, core: Floats, _air_c: float, rng: np.random.Generator) -> Planted:
    """One reading 25 K high."""
    minutes, core, k = _at(minutes, core, rng)
    core[k] += 25.0
    return minutes, core, {k}


def pit_air(minutes: Floats, core: Floats, air_c: float, rng: np.random.Generator) -> Planted:
    """The probe in the pit's air."""
    minutes, core, k = _at(minutes, core, rng)
    core[k] = air_c + rng.normal(0.0, 4.0)
    return minutes, core, {k}


def room(minutes: Floats, core: Floats, _air_c: float, rng: np.random.Generator) -> Planted:
    """The probe on the table for one to three readings."""
    minutes, core, k = _at(minutes, core, rng)
    out = range(k, min(k + int(rng.integers(1, 4)), len(minutes)))
    core[list(out)] = 24.0 + rng.normal(0.0, 3.0, len(out))
    return minutes, core, set(out)


def bone(minutes: Floats, core: Floats, _air_c: float, rng: np.random.Generator) -> Planted:
    """The probe at the bone for an hour, 12 K high, then in the middle again."""
    minutes, core, k = _at(minutes, core, rng)
    k = min(k, max(0, len(minutes) - 4))
    there = np.flatnonzero((minutes >= minutes[k]) & (minutes < minutes[k] + 60.0))
    there = there[there < len(minutes) - 2]
    core[there] += 12.0
    return minutes, core, set(there.tolist())


def twice(minutes: Floats, core: Floats, _air_c: float, rng: np.random.Generator) -> Planted:
    """One reading entered twice; the second is the fault."""
    k = _at(minutes, core, rng)[2]
    return np.insert(minutes, k, minutes[k]), np.insert(core, k, core[k]), {k + 1}


FAULTS: dict[str, Fault] = {
    "°F as °C": fahrenheit,
    "°C as °F": celsius,
    "spike": spike,
    "pit air": pit_air,
    "room air": room,
    "bone": bone,
    "twice": twice,
}


def readings(truth: Truth, every: float, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """A probe's readings of a true cook, until some way through it."""
    minutes = np.arange(every, rng.uniform(0.4, 1.0) * truth.total, every)
    return minutes, truth.core_at(minutes) + rng.normal(0.0, PROBE_SD_K, len(minutes))


def found_and_lost(
    bounds: Limits, truths: list[Truth], every: float, air_c: float, fault: Fault
) -> tuple[float, float]:
    """The share of planted faults found, and of honest readings lost beside them."""
    found = planted = lost = honest = 0
    for number, truth in enumerate(truths):
        rng = np.random.default_rng(number)
        minutes, core = readings(truth, every, rng)
        if len(minutes) < 3:
            continue
        minutes, core, spoilt = fault(minutes, core, air_c, rng)
        wrong = abs(core - truth.core_at(minutes)) > SHOWS_K
        spoilt = {i for i in spoilt if wrong[i] or fault is twice}
        out = {one.place for one in sieve(bounds, list(zip(minutes, core, strict=True))).left_out}
        found, planted = found + len(out & spoilt), planted + len(spoilt)
        lost, honest = lost + len(out - spoilt), honest + len(minutes) - len(spoilt)
    return found / max(planted, 1), lost / max(honest, 1)


def lost_of(bounds: Limits, truths: list[Truth], every: float) -> float:
    """The share of honest readings, in whole °F, that the sieve leaves out."""
    lost = read = 0
    for number, truth in enumerate(truths):
        minutes, core = readings(truth, every, np.random.default_rng(number))
        whole = (np.round(core * 1.8 + 32.0) - 32.0) / 1.8
        lost += len(sieve(bounds, list(zip(minutes, whole, strict=True))).left_out)
        read += len(minutes)
    return lost / max(read, 1)


def odd_ones(cook: Cook, count: int) -> dict[str, list[Truth]]:
    """True cooks that are not what was said."""
    using, pit = wider()
    return {
        "as said": truths_of(cook, count),
        "wider priors": truths_of(replace(cook, pit=pit), count, using),
        "pit 25 K hot": truths_of(replace(cook, setpoint_c=cook.setpoint_c + 25.0), count),
        "half as heavy": truths_of(replace(cook, mass_kg=0.5 * cook.mass_kg), count),
        "twice as heavy": truths_of(replace(cook, mass_kg=2.0 * cook.mass_kg), count),
    }


def report(count: int = 200) -> None:
    """Print both tables."""
    print("\nPlanted faults found, % (and honest readings lost beside them, %)")
    print(f"{'':28s} " + " ".join(f"{name:>12s}" for name in FAULTS))
    for name, cook in COOKS.items():
        bounds, truths = limits(cook), truths_of(cook, count)
        for every in (5.0, 30.0):
            row = [found_and_lost(bounds, truths, every, cook.setpoint_c, f) for f in FAULTS.values()]
            told = " ".join(f"{100 * found:6.0f} ({100 * lost:3.1f})" for found, lost in row)
            print(f"{name + f', every {every:.0f} min':28s} {told}", flush=True)
    print("\nHonest readings lost, %, read every 5 and every 30 min")
    for name, cook in COOKS.items():
        bounds = limits(cook)
        told = (
            f"{label} {100 * lost_of(bounds, truths, 5.0):.2f} {100 * lost_of(bounds, truths, 30.0):.2f}"
            for label, truths in odd_ones(cook, count).items()
        )
        print(f"{name:18s} " + "; ".join(told), flush=True)


if __name__ == "__main__":
    report(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
