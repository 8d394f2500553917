"""What the board says to a person new to it: first steps in each view, and the words of the trade."""

import re
import tomllib
from collections.abc import Callable, Mapping
from functools import lru_cache
from importlib.resources import files
from typing import Any

Key = Callable[[str], str]
"""What the key of an act is called in this house, by the act's id."""

_KEY = re.compile(r"\{([a-z-]+)\}")


def first_steps(view: str, key: Key) -> tuple[str, ...]:
    """The short page for a person new to a view; `key` tells what an act's key is called."""
    lines: list[str] = read_data("first_steps")[view]["lines"]
    return tuple(_KEY.sub(lambda found: key(found[1]), line) for line in lines)


def words() -> Mapping[str, str]:
    """Every word that is explained, with what it means."""
    table: Mapping[str, str] = read_data("words")["words"]
    return table


@lru_cache
def read_data(name: str) -> Mapping[str, Any]:
    """One of the tables of what is told."""
    return tomllib.loads(files("board.views").joinpath(f"data/{name}.toml").read_text(encoding="utf-8"))
