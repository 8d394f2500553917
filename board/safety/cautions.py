"""Short cautions by topic, for the views and sheets of steps that can hurt someone."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def _table() -> dict[str, list[dict[str, Any]]]:
    return tomllib.loads((files("board.safety") / "data" / "cautions.toml").read_text("utf-8"))


def topics() -> tuple[str, ...]:
    """The topics there are cautions for."""
    return tuple(_table())


def cautions(topic: str) -> tuple[str, ...]:
    """The cautions of a topic, a sentence or two each; their sources stand in data/cautions.toml.

    Raises KeyError for a topic that is not in topics().
    """
    return tuple(str(row["text"]) for row in _table()[topic])


def in_short(topic: str) -> str:
    """The first caution of a topic in one line of a small screen.

    Raises KeyError for a topic that is not in topics().
    """
    return str(_table()[topic][0]["short"])
