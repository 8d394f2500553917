"""The cooking rule a planned load falls under: its cut's handling, and for roasts the pit it is cooked in."""

from dataclasses import dataclass

from board.house.model import Handling, House
from board.planning.modes import warmer_here_k
from board.planning.plan import PlannedLoad
from board.safety.handling import handled
from board.safety.limits import CookRow, cook_rule, roast_oven_least_c
from board.safety.log import slack_k
from board.safety.ovens import WITHOUT_CHART


@dataclass(frozen=True, slots=True)
class Rule:
    """The rule as rows of a core and the seconds to be held there, the coolest first.

    `cool_pit` tells that the roast chart would apply in a hotter pit.
    """

    handling: Handling
    rows: tuple[CookRow, ...]
    source: str
    cool_pit: bool = False


def rule_of(house: House, load: PlannedLoad) -> Rule:
    """The rule of a load as planned, by the house's jurisdiction."""
    handling, place = handled(house.cuts[load.cut], house.recipes), house.jurisdiction
    rule = cook_rule(handling, place)
    cool = rule.charted and handling in WITHOUT_CHART and not _is_hot_enough(house, load)
    if cool:
        rule = cook_rule(WITHOUT_CHART[handling], place)
    return Rule(handling, rule.printed, rule.source, cool)


def _is_hot_enough(house: House, load: PlannedLoad) -> bool:
    """Whether its oven is as hot as the chart asks throughout: a warmer zone is no proof of that."""
    least_c = load.setpoint_c if load.then_c is None else min(load.setpoint_c, load.then_c)
    here_c = least_c + min(0.0, warmer_here_k(house, load.pit, load.zone))
    return here_c >= roast_oven_least_c(load.mass_kg / load.pieces, house.jurisdiction) - slack_k()
