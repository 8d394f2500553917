"""Holding, cooling and cooking temperatures of a place, from its table with their sources.

A rule printed in both scales is met in either, so the least of a pair of minimums counts and the most
of a pair of maximums; of a record kept in °F, the °F alone. These advise; the local code decides.
"""

from dataclasses import dataclass
from functools import cache

from board.house.model import Handling
from board.safety.tables import Limit, limit, rules


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
class CookRow:
    """One row of a cooking rule: all parts at `at` or hotter for so many seconds without a break."""

    at: Limit
    seconds: float


@dataclass(frozen=True, slots=True)
class CookRule:
    """The cooking rule of a handling, its rows the coolest first.

    `charted` where it also asks for a hot enough oven; `note` is what to know of it besides; `borrowed` says
    whose it is where not the place's.
    """

    printed: tuple[CookRow, ...]
    source: str
    charted: bool = False
    note: str = ""
    borrowed: str = ""

    @property
    def notes(self) -> tuple[str, ...]:
        """What to know of it, in sentences."""
        return tuple(said for said in (self.note, self.borrowed) if said)

    @property
    def rows(self) -> tuple[tuple[float, float], ...]:
        """(core °C, seconds to be held there), the lowest first."""
        return tuple((row.at.least_c(), row.seconds) for row in self.printed)


def hot_hold_least_c(*, charted_roast: bool = False, place: str = "us") -> float:
    """Hot food is held at this or hotter; `charted_roast` for roasts cooked by the roast chart."""
    key = "hot_roast_least" if charted_roast else "hot_least"
    return rules(place, "holding").limit(key).least_c()


def cold_hold_most_c(place: str = "us") -> float:
    """Cold food is held at this or colder."""
    return rules(place, "holding").limit("cold_most").most_c()


def cooling(place: str = "us") -> Cooling:
    """The cooling rule with its two checkpoints."""
    rule = rules(place, "cooling")
    return Cooling(
        starts_c=rule.limit("starts").least_c(),
        first_c=rule.limit("first").most_c(),
        first_minutes=float(rule.rows["first"]["within_minutes"]),
        all_c=rule.limit("all").most_c(),
        all_minutes=float(rule.rows["all"]["within_minutes"]),
        source=rule.source,
    )


@cache
def cook_rule(handling: Handling, place: str = "us") -> CookRule:
    """The time and temperature pairs that cook meat so handled."""
    rule = rules(place, "cooking", handling)
    found = rule.rows
    rows = tuple(CookRow(limit(row), float(row["hold_s"])) for row in found["rows"])
    return CookRule(rows, rule.source, bool(found.get("charted")), str(found.get("note", "")), rule.borrowed)


def least_core_c(handling: Handling, place: str = "us") -> float:
    """The lowest core temperature at which meat so handled can be cooked safe at all, if held long enough."""
    return cook_rule(handling, place).rows[0][0]


def hold_seconds(handling: Handling, core_c: float, place: str = "us") -> float | None:
    """Seconds a core must stay at this temperature to be cooked; None where no time is enough.

    Between the rule's rows the colder row counts: nothing is read between them.
    """
    enough = [seconds for at_c, seconds in cook_rule(handling, place).rows if core_c >= at_c]
    return enough[-1] if enough else None


def roast_oven_least_c(mass_kg: float, place: str = "us", *, convection: bool = False) -> float:
    """The coolest dry oven, °C, in which a roast of so many kg is cooked by the roast chart."""
    oven = rules(place, "roast_oven")
    weight = "heavy_least" if mass_kg >= float(oven.rows["heavy_kg"]) else "light_least"
    return oven.limit("convection" if convection else "dry", weight).least_c()
