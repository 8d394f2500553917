"""Reads the package's own data tables."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def table(name: str) -> dict[str, Any]:
    """A TOML table of board/cooking/data by its file name without suffix; read once, do not change it."""
    return tomllib.loads((files("board.cooking") / "data" / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def number(name: str, section: str, key: str) -> float:
    """One number of a table, in the unit that stands beside it."""
    return float(table(name)[section][key]["value"])


def room_c() -> float:
    """The air of the room, °C."""
    return number("parameters", "fixed", "room_c")
