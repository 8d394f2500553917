"""The weights a plan is judged by, from the data table beside their reasons."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


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
