"""The tables of each place's rules, each figure beside its source, edition and how sure we are of it."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from board.errors import BoardError
from board.house.degrees import to_celsius
from board.house.model import JURISDICTIONS

FALLS_BACK_TO = "us"


@dataclass(frozen=True, slots=True)
class Limit:
    """A temperature as a rule prints it: °C, and °F where the rule prints that too."""

    c: float
    f: float | None = None

    def least_c(self, *, in_fahrenheit: bool = False) -> float:
        """The lowest °C that meets it as a minimum: by the °F alone for a record kept in °F."""
        return self._in_c(in_fahrenheit, min)

    def most_c(self, *, in_fahrenheit: bool = False) -> float:
        """The highest °C that meets it as a maximum: by the °F alone for a record kept in °F."""
        return self._in_c(in_fahrenheit, max)

    def _in_c(self, in_fahrenheit: bool, either: Any) -> float:
        if self.f is None:
            return self.c
        # turned as a typed °F is, so that a reading of 145 °F is not short of 145 °F
        turned = to_celsius(self.f)
        return turned if in_fahrenheit else float(either(self.c, turned))

    def __str__(self) -> str:
        return f"{self.c:g} °C" if self.f is None else f"{self.c:g} °C ({self.f:g} °F)"


@dataclass(frozen=True, slots=True)
class Rules:
    """One part of a place's rules: its rows, its source, and a word where they are another place's."""

    rows: dict[str, Any]
    source: str
    borrowed: str = ""

    def limit(self, *keys: str) -> Limit:
        """A temperature of the part, found by its keys."""
        row = self.rows
        for key in keys:
            row = row[key]
        return limit(row)


def limit(row: dict[str, Any]) -> Limit:
    """The temperature a row prints."""
    return Limit(float(row["c"]), float(row["f"]) if "f" in row else None)


def places() -> tuple[str, ...]:
    """The places whose rules there is a table of; a house chooses one as its jurisdiction."""
    return JURISDICTIONS


def place_name(place: str) -> str:
    """The place's name in words."""
    return str(_known(place)["place"]["name"])


def who_decides(place: str) -> str:
    """Whose word counts in the place, in a sentence."""
    return str(_known(place)["place"]["decides"])


def whose(rule: Rules, place: str) -> tuple[str, ...]:
    """What to know of a rule beside its verdict: whose it is where borrowed, and whose word counts."""
    return (*((rule.borrowed,) if rule.borrowed else ()), who_decides(place))


def edition(place: str) -> str:
    """Which edition of its rules the place's table was read in."""
    return str(_known(place)["place"]["edition"])


@cache
def rules(place: str, *part: str) -> Rules:
    """A part of a place's rules, or the United States' where its table prints no figure, saying so.

    Raises BoardError for a place without a table.
    """
    own = _part(_known(place), part)
    if own is not None:
        return Rules(own, _sourced(own))
    found = _part(table(FALLS_BACK_TO), part)
    assert found is not None, part
    borrowed = (
        f"The table of {place_name(place)} prints no figure of its own for this: the figure is that of "
        f"{place_name(FALLS_BACK_TO)}. {who_decides(place)}"
    )
    return Rules(found, _sourced(found), borrowed)


@cache
def table(name: str) -> dict[str, Any]:
    """One data table by its file name without the ending."""
    return tomllib.loads((files("board.safety") / "data" / f"{name}.toml").read_text("utf-8"))


def _known(place: str) -> dict[str, Any]:
    if place not in JURISDICTIONS:
        raise BoardError(f"jurisdiction: found {place!r}, allowed {', '.join(JURISDICTIONS)}")
    return table(place)


def _part(found: dict[str, Any], part: tuple[str, ...]) -> dict[str, Any] | None:
    """A part of a table, with what it takes from the part beside it that it names; None where it is not."""
    beside = found
    for key in part:
        if key not in found:
            return None
        beside, found = found, found[key]
    return {**beside[found["as"]], **found} if "as" in found else found


def _sourced(part: dict[str, Any]) -> str:
    how = str(part["how"])
    told = f"read in the {part['read_in']}" if "read_in" in part else f"from {how}"
    return f"{part['source']} ({told})"
