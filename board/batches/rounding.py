"""What a scale or a jug can show: the nearest amount a cook can weigh or measure out.

The steps are common practice, no source: a bench scale shows 1 g to 1 kg, 5 g to 5 kg, 10 g to
15 kg and 50 g above; a fine scale shows 0.1 g to 200 g and is used below 10 g and for every cure;
jugs are marked at 5 mL to 100 mL, 10 mL to 1 L, 50 mL to 5 L and 250 mL above.
"""

from dataclasses import dataclass
from math import inf

BENCH_SCALE_G = ((10.0, 0.1), (1_000.0, 1.0), (5_000.0, 5.0), (15_000.0, 10.0), (inf, 50.0))
FINE_SCALE_G = ((200.0, 0.1), *BENCH_SCALE_G[1:])
JUG_ML = ((100.0, 5.0), (1_000.0, 10.0), (5_000.0, 50.0), (inf, 250.0))

Steps = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """An amount as an instrument shows it, and the step it was rounded to, in the same unit."""

    amount: float
    unit: str
    step: float


def step_for(exact: float, steps: Steps) -> float:
    """The step an instrument shows at this amount."""
    return next(step for below, step in steps if exact < below)


def weighed(grams: float, *, fine: bool = False) -> Shown:
    """Grams to the nearest step of the bench scale, or of the fine scale that cures need."""
    return _shown(grams, FINE_SCALE_G if fine else BENCH_SCALE_G, "g", "kg")


def measured(litres: float) -> Shown:
    """Litres to the nearest mark of a jug."""
    return _shown(litres * 1_000, JUG_ML, "mL", "L")


def _shown(exact: float, steps: Steps, small: str, large: str) -> Shown:
    step = step_for(exact, steps)
    amount = round(exact / step) * step
    if amount < 1_000:
        return Shown(round(amount, 1), small, step)
    return Shown(round(amount / 1_000, 3), large, step / 1_000)
