"""What it takes to call a load cooked as planned, from the package's data table."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Judged:
    """How many likely cooks a load is judged by, and how many of them must do; see data/cooked.toml."""

    members: float
    sure: float
    likely: float
    probe_minutes: float
    tried_most: float


@cache
def judged_by() -> Judged:
    """The numbers of the table."""
    text = files("board.planning").joinpath("data/cooked.toml").read_text(encoding="utf-8")
    return Judged(**{name: float(row["value"]) for name, row in tomllib.loads(text)["judged"].items()})
