"""The numbers of data/readings.toml."""

from functools import cache

from board.cooking.tables import table


@cache
def number(section: str, name: str) -> float:
    """One number by its section and name, in the unit its name ends with."""
    return float(table("readings")[section][name]["value"])
