"""Rules by the pound beside the model: one rate for every mass, against bodies that grow."""

import tomllib
from dataclasses import dataclass

from board.cooking.cook import Cook
from board.house.library import library_cut
from board.house.model import PitKind
from tests.cooking import published as p

LB_KG = 0.45359237
SHARES = (0.5, 0.75, 1.0, 1.5, 2.0)


@dataclass(frozen=True)
class Told:
    """One mass: what the model says, what the rule says, and what the rule would say set right at its middle.

    Hours; `rule_h` from and to.
    """

    cut: str
    kg: float
    share: float
    model_h: float
    rule_h: tuple[float, float]
    agreed_h: float


def told() -> list[Told]:
    """Every rule at parts and multiples of its cut's usual mass.

    `agreed_h` takes the rate at which the rule meets the model for the usual mass, so that what is left is
    how time grows with mass.
    """
    found = []
    for rule in tomllib.loads(p.TABLE.read_text(encoding="utf-8"))["rule"]:
        cut = library_cut(rule["cut"])
        air = p.PIT if PitKind(rule["pit"]) == PitKind.OFFSET else p.OVEN
        masses = [cut.mass_kg.usual * share for share in SHARES]
        cooks = [Cook(cut, kg, 1, air, rule["pit_c"], rule["core_c"], p.FRIDGE_C) for kg in masses]
        hours = (p.centre(cooks).pulled_s / 3600).tolist()
        usual_h = hours[SHARES.index(1.0)]
        low, high = rule["minutes_per_lb"]
        for kg, share, model_h in zip(masses, SHARES, hours, strict=True):
            rule_h = (kg / LB_KG * low / 60, kg / LB_KG * high / 60)
            found.append(Told(cut.id, kg, share, model_h, rule_h, usual_h * share))
    return found
