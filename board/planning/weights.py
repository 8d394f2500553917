"""The weights a plan is judged by: the house's own in money, and the data table's for the rest."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import Any

# One point is one hundredth of the house's money.
POINTS_IN_MONEY = 100.0

# What each key of a house's `[weigh]` weighs, and the points in one of its money.
_WEIGHED = {
    "lost_portion": ("unserved_portion", POINTS_IN_MONEY),
    "late_portion": ("late_portion", POINTS_IN_MONEY),
    "late_minute": ("late_portion_minute", POINTS_IN_MONEY),
    "held_hour": ("hold_portion_minute", POINTS_IN_MONEY / 60),
    "lighting": ("lighting", POINTS_IN_MONEY),
    "change_over": ("change_over", POINTS_IN_MONEY),
    "moved_load": ("moved_load", POINTS_IN_MONEY),
}


@dataclass(frozen=True, slots=True)
class Weights:
    """Points for each thing a plan gives up; see data/costs.toml for the reasons."""

    unserved_portion: float
    late_portion: float
    late_portion_minute: float
    thin_portion_minute: float
    hold_portion_minute: float
    easy_hold_minutes: float
    lighting: float
    change_over: float
    tardy_minutes_most: float
    moved_load: float
    moved_pit: float
    moved_minute: float
    task_attention_percent: int
    guest_kg: float
    enough_chance: float


@cache
def usual_weights() -> Weights:
    """The weights of the package's table."""
    table = tomllib.loads(files("board.planning").joinpath("data/costs.toml").read_text(encoding="utf-8"))
    return Weights(**table["weights"], **table["crew"], **table["quantity"])


def weights_of(weighing: Mapping[str, float]) -> Weights:
    """The usual weights, with what a house weighs itself in its money (`House.weighing`) in their place."""
    own: dict[str, Any] = {_WEIGHED[key][0]: money * _WEIGHED[key][1] for key, money in weighing.items()}
    return replace(usual_weights(), **own)


def in_money(points: float) -> str:
    """Points in the house's money, `12.40`."""
    return f"{points / POINTS_IN_MONEY:,.2f}"
