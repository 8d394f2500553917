"""What a scale or a jug can show: the nearest amount a cook can weigh or measure out.

A cure goes on the fine scale, up to what that bears; all else on the bench scale. The steps are the
house's own, or the usual ones of board/house/data/scales.toml.
"""

from dataclasses import dataclass

from board.house.model import Scales, Steps
from board.house.read_scales import usual_scales


@dataclass(frozen=True, slots=True)
class Shown:
    """An amount as an instrument shows it, and the step it was rounded to, in the same unit."""

    amount: float
    unit: str
    step: float

    @property
    def grams(self) -> float:
        """The grams, or millilitres, that are shown."""
        return self.amount * (1_000 if self.unit in ("kg", "L") else 1)

    @property
    def step_g(self) -> float:
        """The step in grams, or millilitres."""
        return self.step * (1_000 if self.unit in ("kg", "L") else 1)


def step_for(exact: float, steps: Steps) -> float:
    """The step an instrument shows at this amount; the coarsest beyond its last."""
    return next((step for below, step in steps if exact < below), steps[-1][1])


def weighed(grams: float, *, fine: bool = False, scales: Scales | None = None) -> Shown:
    """Grams to the nearest step of the bench scale, or of the fine scale that cures need."""
    found = scales or usual_scales()
    on_fine = fine and grams < found.fine[-1][0]
    return _shown(grams, step_for(grams, found.fine if on_fine else found.bench), "g", "kg")


def measured(litres: float, *, scales: Scales | None = None) -> Shown:
    """Litres to the nearest mark of a jug."""
    return _shown(litres * 1_000, step_for(litres * 1_000, (scales or usual_scales()).jug), "mL", "L")


def _shown(exact: float, step: float, small: str, large: str) -> Shown:
    amount = round(exact / step) * step
    if amount < 1_000:
        return Shown(round(amount, 3), small, step)
    return Shown(round(amount / 1_000, 6), large, step / 1_000)
