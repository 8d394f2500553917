"""The most nitrite and nitrate a place allows in a product, by the day it is made (data/nitrite_limits.toml).

All ppm are mg for each kg of green, that is raw, meat, as sodium nitrite or sodium nitrate. The code in
force where the house stands, and the licensed person, decide.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any

from board.batches.tables import table


class Method(StrEnum):
    """How nitrite and salt reach the meat; each has its own formula and limit."""

    PUMPED = "pumped"
    IMMERSION = "immersion"
    DRY = "dry"
    COMMINUTED = "comminuted"


class Product(StrEnum):
    """The class of product a limit is written for: whole pieces, bacon, or ground meat."""

    WHOLE = "whole"
    BACON = "bacon"
    GROUND = "ground"


class Agent(StrEnum):
    """What a cure blend brings beside its salt."""

    NITRITE = "nitrite"
    NITRATE = "nitrate"


@dataclass(frozen=True, slots=True)
class Limit:
    """The most that may go in, mg/kg of green meat.

    `exact` where it is also the least; `residual` where it binds what is left in the product; `only` what
    it is written for, where that is not meat that is cooked.
    """

    ppm: float
    exact: bool
    rule: str
    residual: bool = False
    only: str = ""


@dataclass(frozen=True, slots=True)
class Code:
    """Whose limits are read, for what class of product, and on which day: None for the newest edition."""

    place: str = "us"
    product: Product = Product.WHOLE
    on: date | None = None


def places() -> tuple[str, ...]:
    """The jurisdictions with a table of limits."""
    return tuple(name for name, part in table("nitrite_limits").items() if "editions" in part)


def place_name(place: str) -> str:
    """A jurisdiction as it is said; its key where there is no table for it."""
    return str(table("nitrite_limits").get(place, {}).get("name", place))


def limit_for(code: Code, method: Method, agent: Agent = Agent.NITRITE) -> Limit | None:
    """The limit a code sets for a method; None where its table has no row, or its place no table."""
    read = edition(code)
    for row in read[agent] if read else ():
        if row["product"] in (code.product, "any") and row["method"] in (method, "any"):
            rule = f"{row['source']}, {code.product} product, {method}: {row['printed']}"
            exact, residual = bool(row.get("exact")), bool(row.get("residual"))
            return Limit(float(row["ppm"]), exact, rule, residual, row.get("only", ""))
    return None


def edition(code: Code) -> Mapping[str, Any] | None:
    """The edition of a place's rules in force on a code's day, or the newest; None where it has no table."""
    if code.place not in places():
        return None
    editions: list[dict[str, Any]] = table("nitrite_limits")[code.place]["editions"]
    in_force = [each for each in editions if code.on is None or each.get("from", date.min) <= code.on]
    return in_force[-1]
