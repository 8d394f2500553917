"""Reads the package's own data tables."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def table(name: str) -> dict[str, Any]:
    """A TOML table of board/cooking/data by its file name without suffix; read once, do not change it."""
    return tomllib.loads((files("board.cooking") / "data" / f"{name}.toml").read_text(encoding="utf-8"))
