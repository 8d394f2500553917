"""The tables that ship with the package's house files, each value beside its source."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def shipped(name: str) -> dict[str, Any]:
    """One table of board/house/data by its file name without the ending."""
    return tomllib.loads((files("board.house") / "data" / f"{name}.toml").read_text("utf-8"))
