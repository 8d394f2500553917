"""Holding, cooling and cooking temperatures, from data/limits.toml with their sources.

A rule printed in both scales is met in either, so the least of a pair of minimums counts and the most
of a pair of maximums. These advise; the local code decides.
"""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from board.house.degrees import to_celsius
from board.house.model import Handling


@dataclass(frozen=True, slots=True)
class Cooling:
    """Checkpoints of cooling: minutes count from when the food passes `starts_c` on its way down."""

    starts_c: float
    first_c: float
    first_minutes: float
    all_c: float
    all_minutes: float
    source: str


@dataclass(frozen=True, slots=True)
class CookRule:
    """The cooking rule of a handling: (core °C, seconds to be held there), the lowest first."""

    rows: tuple[tuple[float, float], ...]
    source: str


def hot_hold_least_c(*, charted_roast: bool = False) -> float:
    """Hot food is held at this or hotter; `charted_roast` for roasts cooked by the roast chart."""
    return _least(_table()["holding"]["hot_roast_least" if charted_roast else "hot_least"])


def cold_hold_most_c() -> float:
    """Cold food is held at this or colder."""
    return _most(_table()["holding"]["cold_most"])


def cooling() -> Cooling:
    """The cooling rule with its two checkpoints."""
    rule = _table()["cooling"]
    return Cooling(
        starts_c=_least(rule["starts"]),
        first_c=_most(rule["first"]),
        first_minutes=float(rule["first"]["within_minutes"]),
        all_c=_most(rule["all"]),
        all_minutes=float(rule["all"]["within_minutes"]),
        source=rule["source"],
    )


def cook_rule(handling: Handling) -> CookRule:
    """The time and temperature pairs that cook meat so handled."""
    cooking = _table()["cooking"]
    rule = cooking[handling]
    rows = cooking[rule.get("as", handling)]["rows"]
    return CookRule(tuple((_least(row), float(row["hold_s"])) for row in rows), rule["source"])


def least_core_c(handling: Handling) -> float:
    """The lowest core temperature at which meat so handled can be cooked safe at all, if held long enough."""
    return cook_rule(handling).rows[0][0]


def hold_seconds(handling: Handling, core_c: float) -> float | None:
    """Seconds a core must stay at this temperature to be cooked; None where no time is enough.

    Between the rule's rows the colder row counts: nothing is read between them.
    """
    enough = [seconds for at_c, seconds in cook_rule(handling).rows if core_c >= at_c]
    return enough[-1] if enough else None


def roast_oven_least_c(mass_kg: float) -> float:
    """The coolest dry oven, °C, in which a roast of so many kg is cooked by the roast chart."""
    oven = _table()["roast_oven"]
    return _least(oven["heavy_least" if mass_kg >= float(oven["heavy_kg"]) else "light_least"])


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((files("board.safety") / "data" / "limits.toml").read_text("utf-8"))


def _least(pair: dict[str, Any]) -> float:
    """The lower of a limit printed in both scales: turned as a typed °F is, so that 145 °F is not short."""
    return min(float(pair["c"]), to_celsius(pair["f"]))


def _most(pair: dict[str, Any]) -> float:
    return max(float(pair["c"]), to_celsius(pair["f"]))
