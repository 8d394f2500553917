"""The containers of meat that lies in its brine, while its preparation is laid out."""

from dataclasses import dataclass, field

from board.batches.served import dose_kg
from board.house.model import House, StepRule
from board.planning.batches.covering import covered_in, covers
from board.planning.batches.pots import Pots
from board.planning.crew import Flags
from board.planning.problem import Part


@dataclass
class Lying:
    """What one part asks of the containers that are left; `lacked` tells that it found none empty."""

    house: House
    part: Part
    pots: Pots
    lacked: bool = field(default=False, init=False)

    def free_until(self, rule: StepRule, end: int) -> Flags | bool:
        """The slots from which its containers stand empty until a slot; any where it needs none."""
        asked = self._asked(rule)
        return True if asked is None else self.pots.free_until(*asked, end)

    def take(self, rule: StepRule, begin: int, end: int) -> None:
        """Fill its containers from the cover to the drain."""
        asked = self._asked(rule)
        if asked is not None:
            self.lacked |= not self.pots.free_until(*asked, end)[begin : begin + 1].any()
            self.pots.take(*asked, begin, end)

    def _asked(self, rule: StepRule) -> tuple[str, int] | None:
        """The container a step covers the meat in, and how many of it."""
        recipe = self.house.recipes.get(rule.recipe or "")
        if recipe is None or recipe.container is None or not covers(recipe):
            return None
        piece_kg, pieces = self.part.need.cut.mass_kg.usual, self.part.pieces
        tub = self.house.containers[recipe.container]
        return tub.id, covered_in(
            tub, pieces, piece_kg, dose_kg(recipe, self.part.need.cut, pieces, piece_kg)
        )
