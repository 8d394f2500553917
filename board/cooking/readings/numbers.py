"""The numbers of data/readings.toml."""

from board.cooking import tables


def number(section: str, name: str) -> float:
    """One number by its section and name, in the unit its name ends with."""
    return tables.number("readings", section, name)
