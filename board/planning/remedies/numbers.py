"""What a remedy is judged by, from the data table beside their reasons."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from board.planning.remedies.remedy import CostKind


@dataclass(frozen=True, slots=True)
class Judgement:
    """What is worth a word or a hand; see data/remedies.toml for the meanings."""

    clearer_chance: float
    sooner_minutes: float
    chances_alike: float
    lateness_alike_minutes: float
    least_change_k: float
    least_shift_minutes: float
    halfway_from_k: float
    same_setpoint_k: float
    overdue_minutes: float
    bark_from: float
    least_lower_k: float
    margin_k: float
    least_rest_minutes: float
    drier_k: float


@cache
def judgement() -> Judgement:
    """The numbers of the package's table."""
    return Judgement(**{name: float(row["value"]) for name, row in _table()["judgement"].items()})


@cache
def harms() -> Mapping[CostKind, float]:
    """How heavy each cost weighs."""
    told = _table()["harm"]
    return {kind: float(told[kind]) for kind in CostKind}


def _table() -> dict[str, Any]:
    return tomllib.loads(files("board.planning").joinpath("data/remedies.toml").read_text(encoding="utf-8"))
