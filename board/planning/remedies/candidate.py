"""One remedy before it is judged: what is done, the cook it leads to, and what it asks in return."""

import math
from dataclasses import dataclass, replace

from board.cooking.cook import Cook
from board.house.degrees import celsius_of, shown
from board.house.model import Display
from board.planning.remedies.remedy import Action, Cost, CostKind, Kind, LeftOut
from board.planning.remedies.scene import Scene


@dataclass(frozen=True, slots=True)
class Candidate:
    """A cook that would follow; ready `after_minutes` from its pull, its rest counted."""

    action: Action
    cook: Cook
    after_minutes: float
    costs: tuple[Cost, ...] = ()

    def costing(self, *costs: Cost) -> "Candidate":
        """The same with more to pay."""
        return replace(self, costs=(*self.costs, *costs))


Found = tuple[list[Candidate], list[LeftOut]]


def nothing(scene: Scene) -> Candidate:
    """Leave everything as it is."""
    load = scene.load
    return Candidate(Action(Kind.NOTHING), load.cook, load.after_minutes + load.door_minutes)


def hands(minutes: float) -> Cost:
    """The hands a remedy takes."""
    return Cost(CostKind.HANDS, minutes)


def whole_degree(celsius: float, display: Display) -> float:
    """The whole degree of the house's scale that a temperature is shown as, °C."""
    return celsius_of(float(round(shown(celsius, display))), display)


def whole_degrees_within(celsius: float, display: Display, *, down: bool = True) -> float:
    """The whole degree of the house's scale at or under a limit (°C), or at or over it with `down` false."""
    there = shown(celsius, display)
    whole = math.floor(there + 1e-6) if down else math.ceil(there - 1e-6)
    return celsius_of(float(whole), display)
