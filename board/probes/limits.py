"""What a message of a probe may say at most."""

import tomllib
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Bounds:
    """The bounds of what is taken: degrees, how far from now, how long a message."""

    coldest_c: float
    hottest_c: float
    ahead: timedelta
    behind: timedelta
    twice: timedelta
    longest_bytes: int


@cache
def bounds() -> Bounds:
    """The bounds of data/bounds.toml."""
    known = tomllib.loads((files("board.probes") / "data" / "bounds.toml").read_text("utf-8"))
    return Bounds(
        coldest_c=known["coldest"]["celsius"],
        hottest_c=known["hottest"]["celsius"],
        ahead=timedelta(minutes=known["ahead"]["minutes"]),
        behind=timedelta(days=known["behind"]["days"]),
        twice=timedelta(minutes=known["twice"]["minutes"]),
        longest_bytes=known["longest"]["bytes"],
    )
