"""What to mind of a batch: its dose, what a scale cannot show well, and salt that stays outside."""

from collections.abc import Iterator

from board.batches.limits import Method
from board.batches.meat import Meat
from board.batches.nitrite import SLACK
from board.batches.scaled_batch import ScaledBatch, ScaledIngredient
from board.batches.spread import SaltSpread, cooler_c, nitrite_m2_s, salt_m2_s
from board.batches.spread_words import EVEN
from board.house.doses import LEAST_COVER

# a cure weighed further off than this is worth a warning
CURE_ROUNDING = 0.02


def warnings(batch: ScaledBatch, meat: Meat | None, spread: SaltSpread | None) -> Iterator[str]:
    """Sentences, on the dose first."""
    if meat:
        yield from meat.notes
    if (
        meat
        and meat.method is Method.IMMERSION
        and batch.batch_kg < LEAST_COVER * batch.meat_kg * (1 - SLACK)
    ):
        yield (
            f"{batch.batch_kg:.3g} kg does not cover {batch.meat_kg:.3g} kg of meat, which takes "
            f"{LEAST_COVER:g} kg a kilogram at least: raise `use`, or leave out `immersed` if it is pumped"
        )
    for line in batch.ingredients:
        yield from _hard_to_weigh(line, meat)
    if meat and meat.nitrite_ppm > 0 and spread:
        yield _slow_nitrite(meat)
    planned = spread.planned if spread and spread.solid else None
    if planned and planned.usual.middle_of_mean < EVEN:
        yield "the outside ends saltier than the middle: carve across the whole piece, or inject it"


def _slow_nitrite(meat: Meat) -> str:
    """Nitrite beside salt, at the temperature salt's coefficient was measured at."""
    slower = salt_m2_s()[1] / nitrite_m2_s(cooler_c())
    so = "waiting evens it little, so inject evenly"
    if meat.method is not Method.PUMPED:
        so = "it stays near the outside for long"
    return f"nitrite moves about {round(slower, -1):g} times as slowly as salt in raw pork: {so}"


def _hard_to_weigh(line: ScaledIngredient, meat: Meat | None) -> Iterator[str]:
    """What the scale cannot show well, and for a cure what one step of the scale is worth."""
    shown_g, step_g = line.shown.grams, line.shown.step_g
    step_ppm = meat.nitrite_ppm * step_g / line.grams if meat and line.nitrite_g > 0 else 0.0
    worth = f"; one step of the scale, {step_g:g} g, is {step_ppm:.2g} ppm of nitrite" if step_ppm else ""
    if line.grams > 0 and shown_g == 0:
        yield f"{line.name}: {line.grams:.2g} g is less than a scale shows{worth}; make a larger batch"
    elif line.role == "cure" and step_g / 2 > CURE_ROUNDING * line.grams > 0:
        yield f"{line.name}: {line.grams:.3g} g is too little to weigh well{worth}; make a larger batch"
    if meat and line.nitrite_g > 0 and not meat.over and _weighed_over(line, meat):
        yield (
            f"{line.name}: the {shown_g:g} g a scale shows is a little over the limit; "
            f"weigh {shown_g - step_g:.6g} g"
        )


def _weighed_over(line: ScaledIngredient, meat: Meat) -> bool:
    """Whether rounding up takes a dose that is within its limit past it."""
    limit = meat.judgement.limit_ppm
    return limit is not None and meat.nitrite_ppm * line.shown.grams / line.grams > limit * (1 + 1e-6)
