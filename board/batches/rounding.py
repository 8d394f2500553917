"""What a scale or a jug can show: the nearest amount a cook can weigh or measure out.

A cure goes on the fine scale, up to what that bears; all else on the bench scale. The steps are the
house's own, or the usual ones of board/house/data/scales.toml.
"""

from dataclasses import dataclass

from board.house.kinds import MASS, VOLUME
from board.house.model import Scales, Steps
from board.house.read_scales import usual_scales

# grams and kilograms, millilitres and litres change over at a thousand; other units stay as they are written
_LARGER = {"g": "kg", "mL": "L", "ml": "L"}


@dataclass(frozen=True, slots=True)
class Shown:
    """An amount as an instrument shows it, and the step it was rounded to, in the same unit.

    `grams` and `step_g` are the same in grams, or in millilitres.
    """

    amount: float
    unit: str
    step: float
    grams: float
    step_g: float


def weighed(grams: float, *, fine: bool = False, scales: Scales | None = None) -> Shown:
    """Grams to the nearest step of the bench scale, or of the fine scale that cures need."""
    found = scales or usual_scales()
    on_fine = fine and grams < found.fine[-1][0]
    return _shown(grams, found.fine if on_fine else found.bench)


def measured(litres: float, *, scales: Scales | None = None) -> Shown:
    """Litres to the nearest mark of a jug."""
    return _shown(litres * 1_000, (scales or usual_scales()).jug)


def _shown(exact: float, steps: Steps) -> Shown:
    """The nearest step at this amount; the coarsest beyond the last."""
    step_g, unit = next(((step, unit) for below, step, unit in steps if exact < below), steps[-1][1:])
    shown_g = round(exact / step_g) * step_g
    larger = _LARGER.get(unit)
    if larger and shown_g >= 1_000:
        unit = larger
    in_one = 1_000 * (MASS.units.get(unit) or VOLUME.units[unit])
    return Shown(round(shown_g / in_one, 6), unit, round(step_g / in_one, 9), shown_g, step_g)
