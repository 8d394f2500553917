"""The package's tables of brines, densities, diffusion and limits, each value beside its source."""

import tomllib
from bisect import bisect_right
from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from typing import Any

from board.errors import BoardError


@cache
def table(name: str) -> dict[str, Any]:
    """One data table by its file name without the ending."""
    return tomllib.loads((files("board.batches") / "data" / f"{name}.toml").read_text("utf-8"))


@cache
def columns(name: str, part: str, *keys: str) -> tuple[tuple[float, ...], ...]:
    """Columns of a table's rows, in the rows' order."""
    rows = table(name)[part]["rows"]
    return tuple(tuple(float(row[key]) for row in rows) for key in keys)


def read_off(x: float, xs: Sequence[float], ys: Sequence[float], what: str, unit: str) -> float:
    """Read a rising table at x by straight lines between its rows.

    Raises BoardError outside the table: nothing is read past its ends.
    """
    if not xs[0] <= x <= xs[-1]:
        raise BoardError(f"{what} must be {xs[0]:g} to {xs[-1]:g} {unit}; got {x:.4g} {unit}")
    i = min(bisect_right(xs, x), len(xs) - 1)
    share = (x - xs[i - 1]) / (xs[i] - xs[i - 1])
    return ys[i - 1] + share * (ys[i] - ys[i - 1])
