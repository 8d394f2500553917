"""The cooking rule a planned load falls under: its cut's handling, and for roasts the pit it is cooked in."""

from dataclasses import dataclass

from board.house.model import Handling, House
from board.planning.modes import warmer_here_k
from board.planning.plan import PlannedLoad
from board.planning.remedies.safe import handled
from board.safety.limits import cook_rule, roast_oven_least_c

# What a roast is judged as where its pit is too cool for the chart.
_WITHOUT_CHART = {Handling.INTACT_ROAST: Handling.INTACT_CUT, Handling.CURED_HAM: Handling.INJECTED}


@dataclass(frozen=True, slots=True)
class Rule:
    """The rule as pairs of a core (°C) and the seconds to be held there, the coolest first.

    `cool_pit` tells that the roast chart would apply in a hotter pit.
    """

    handling: Handling
    pairs: tuple[tuple[float, float], ...]
    source: str
    cool_pit: bool = False


def rule_of(house: House, load: PlannedLoad) -> Rule:
    """The rule of a load as planned."""
    handling, least_c = handled(house.cuts[load.cut]), roast_oven_least_c(load.mass_kg / load.pieces)
    cool = handling in _WITHOUT_CHART and _oven_c(house, load) < least_c
    asked = cook_rule(_WITHOUT_CHART[handling] if cool else handling)
    return Rule(handling, asked.rows, asked.source, cool)


def _oven_c(house: House, load: PlannedLoad) -> float:
    """The coolest its oven is asked to be, °C: a warmer zone is no proof of a hotter oven."""
    least_c = load.setpoint_c if load.then_c is None else min(load.setpoint_c, load.then_c)
    return least_c + min(0.0, warmer_here_k(house, load.pit, load.zone))
