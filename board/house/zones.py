"""Time zones with the countries they are of, from the tables of the IANA time zone database."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def countries() -> Mapping[str, str]:
    """Each country's name by its ISO 3166 code."""
    return {row[0]: row[1] for row in _rows("iso3166.tab")}


@cache
def zones() -> Mapping[str, str]:
    """The ISO 3166 code of the country each time zone is of, by the zone's name."""
    return {row[2]: row[0] for row in sorted(_rows("zone.tab"), key=lambda row: row[2])}


def _rows(name: str) -> list[list[str]]:
    text = (files("tzdata") / "zoneinfo" / name).read_text("utf-8")
    return [line.split("\t") for line in text.splitlines() if line and not line.startswith("#")]
