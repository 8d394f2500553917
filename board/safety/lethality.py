"""Decades of germs that a record's heat takes off, beside a rule's verdict and never instead of it.

The published worksheet: at T °C heat works at the rate 10^((T - t)/z) of a reference temperature t; the
trapezoids of that over the record are F, minutes at t, and F/D the decades. Poultry goes by its own tables
of 7 decades, read along straight lines of the logarithm of time. A stretch nobody read takes off nothing.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import ceil, log10
from typing import Any

from board.house.degrees import F_A_KELVIN, to_celsius
from board.house.model import Handling
from board.safety.handling import BIRDS
from board.safety.log import TemperatureLog, slack_k, trusted_minutes
from board.safety.tables import table

Rate = Callable[[float], float]  # decades a minute at a core in °C
_MEAT = "salmonella_lean_beef"
_TABLE_DECADES = 7.0
_LEAST_RATE = 1e-9  # below it heat does nothing in any record's time


@dataclass(frozen=True, slots=True)
class ReferenceSet:
    """What kills one organism in one food: the reference °C, the kelvins for tenfold, D in minutes there."""

    organism: str
    at_c: float
    z_k: float
    d_minutes: float
    source: str

    def rate(self, core_c: float) -> float:
        """Decades a minute at a core in °C."""
        rate = float(10.0 ** ((core_c - self.at_c) / self.z_k)) / self.d_minutes
        return rate if rate >= _LEAST_RATE else 0.0


@cache
def reference_set(name: str) -> ReferenceSet:
    """A set of the worksheet by its name in data/lethality.toml."""
    row = table("lethality")["set"][name]
    at_c, z_k = to_celsius(float(row["at"]["f"])), float(row["z"]["f"]) / F_A_KELVIN
    return ReferenceSet(row["organism"], at_c, z_k, float(row["d_minutes"]), row["source"])


def lethality_log10(log: TemperatureLog, handling: Handling) -> float:
    """Decades of Salmonella taken off over the whole record, by the food's own set or tables."""
    return cumulative(log, rate_for(handling))[-1] if log.readings else 0.0


def lethality_by(handling: Handling) -> str:
    """Whose figures lethality is worked out from, in a phrase."""
    if handling in BIRDS:
        return "the slowest of the FSIS tables of 7 decades of Salmonella in chicken and turkey"
    found = reference_set(_MEAT)
    return f"the worksheet's figures for {found.organism}"


def rate_for(handling: Handling) -> Rate:
    """Decades a minute at a core, for meat so handled."""
    return poultry_rate if handling in BIRDS else reference_set(_MEAT).rate


def poultry_rate(core_c: float) -> float:
    """Decades a minute in poultry: the slowest of the tables, nothing below their coldest row.

    Above a table's hottest row, its time there goes on counting.
    """
    slowest_s = 0.0
    for points in _poultry_tables():
        if core_c < points[0][0] - slack_k():
            return 0.0
        slowest_s = max(slowest_s, _read_off(points, core_c))
    return 60.0 * _TABLE_DECADES / slowest_s


def cumulative(log: TemperatureLog, rate: Rate) -> tuple[float, ...]:
    """Decades taken off up to each reading of the record.

    The worksheet's trapezoids, in steps no longer than its own: a wider stretch is cut into such steps.
    """
    decades = [0.0]
    for part in _parts(log, rate):
        decades.append(decades[-1] + part)
    return tuple(decades)


def _parts(log: TemperatureLog, rate: Rate) -> Iterator[float]:
    longest = float(table("lethality")["method"]["step_minutes"])
    for start, end, from_c, to_c, trusted in log.stretches(trusted_minutes("cooking")):
        at_ends = rate(from_c), rate(to_c)
        if not trusted or max(at_ends) == 0.0:
            yield 0.0
            continue
        steps = max(1, ceil((end - start) / longest - 1e-9))
        inner = sum(rate(from_c + (to_c - from_c) * i / steps) for i in range(1, steps))
        yield (sum(at_ends) / 2.0 + inner) * (end - start) / steps


@cache
def _poultry_tables() -> tuple[tuple[tuple[float, float], ...], ...]:
    """(°C, seconds for 7 decades) of each table, the rows that ask for no time left out."""
    return tuple(_timed(part["rows"]) for part in table("fsis")["poultry"].values())


def _timed(rows: list[dict[str, Any]]) -> tuple[tuple[float, float], ...]:
    return tuple((to_celsius(float(row["f"])), float(row["log7_s"])) for row in rows if row["log7_s"] > 0)


def _read_off(points: tuple[tuple[float, float], ...], core_c: float) -> float:
    """Seconds at a core by straight lines of the logarithm between rows; the end rows' own beyond them."""
    if core_c <= points[0][0]:
        return points[0][1]
    for (cool_c, long_s), (hot_c, short_s) in pairwise(points):
        if core_c <= hot_c:
            share = (core_c - cool_c) / (hot_c - cool_c)
            return float(10.0 ** (log10(long_s) + share * (log10(short_s) - log10(long_s))))
    return points[-1][1]
