"""All a cook needs to make one batch, worked out: what to weigh, how strong, what stays, when."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from board.batches.brine import Brine, brine
from board.batches.meat import Meat, in_the_meat
from board.batches.merge import ready_and_use_by
from board.batches.nitrite import Method, Product
from board.batches.scale import ScaledBatch, ScaledIngredient, is_liquid, scaled
from board.batches.spread import SaltSpread, from_needles, from_outside, in_hours_or_days
from board.house.model import Cut, House, Recipe, RecipeKind

# a cure weighed further off than this is worth a warning
CURE_ROUNDING = 0.02


@dataclass(frozen=True, slots=True)
class BatchCard:
    """One batch for so much meat; times (UTC) are None until it is known when it is made."""

    batch: ScaledBatch
    brine: Brine | None
    meat: Meat | None
    spread: SaltSpread | None
    made_at: datetime | None
    ready_from: datetime | None
    use_by: datetime | None
    warnings: tuple[str, ...]


def batch_card(
    house: House,
    recipe: Recipe,
    meat_kg: float,
    *,
    pickup: float | None = None,
    made_at: datetime | None = None,
    product: Product = Product.WHOLE,
    place: str = "us",
) -> BatchCard:
    """Work a recipe out for its meat, the thickest cut of the house that takes it setting the spread.

    `pickup` is a fraction of the green mass; `place` a jurisdiction of nitrite.places(). Raises
    BoardError where the recipe cannot be made so.
    """
    batch = scaled(recipe, meat_kg, pickup=pickup)
    meat = in_the_meat(batch, product, place)
    spread = _spread(recipe, meat, cuts_taking(house, recipe))
    ready_from, use_by = ready_and_use_by(recipe, made_at) if made_at else (None, None)
    return BatchCard(
        batch=batch,
        brine=brine(batch.salt_percent, batch.sugar_percent) if is_liquid(recipe) else None,
        meat=meat,
        spread=spread,
        made_at=made_at,
        ready_from=ready_from,
        use_by=use_by,
        warnings=tuple(_warnings(batch, meat, spread)),
    )


def cuts_taking(house: House, recipe: Recipe) -> tuple[Cut, ...]:
    """The cuts of the house that a recipe is used on, before the pit or after it."""
    prepared = {cut.id for cut in house.cuts.values() for step in cut.prep if step.recipe == recipe.id}
    finished = {item.cut for item in house.items.values() for step in item.finish if step.recipe == recipe.id}
    return tuple(cut for cut in house.cuts.values() if cut.id in prepared | finished)


def _spread(recipe: Recipe, meat: Meat | None, cuts: tuple[Cut, ...]) -> SaltSpread | None:
    """How salt gets to the middle; None for what stays on the outside, or where no cut is known."""
    if meat is None or meat.method is Method.COMMINUTED or recipe.kind is RecipeKind.RUB:
        return None
    if meat.method is Method.PUMPED:
        return from_needles()
    from_all_sides = (from_outside(cut.size) for cut in cuts)
    return max(from_all_sides, key=lambda spread: spread.hours_to_90_percent, default=None)


def _warnings(batch: ScaledBatch, meat: Meat | None, spread: SaltSpread | None) -> Iterator[str]:
    if meat:
        yield from meat.notes
        if meat.judgement.over:
            yield f"Nitrite {meat.nitrite_ppm:.0f} ppm is {meat.judgement.verdict}: do not make it so"
    for line in batch.ingredients:
        yield from _hard_to_weigh(line)
    immersed = batch.recipe.immersed_minutes
    if spread and immersed is not None and immersed < spread.hours_to_90_percent * 60:
        yield (
            f"{in_hours_or_days(immersed / 60)} in the brine is less than the "
            f"{in_hours_or_days(spread.hours_to_90_percent)} or so that salt takes to the middle: "
            "the outside ends saltier than the middle"
        )


def _hard_to_weigh(line: ScaledIngredient) -> Iterator[str]:
    shown_g = line.shown.amount * (1_000 if line.shown.unit == "kg" else 1)
    if line.grams > 0 and shown_g == 0:
        yield f"{line.name}: {line.grams:.2g} g is less than a scale shows; make a larger batch"
    elif line.role == "cure" and abs(shown_g - line.grams) > CURE_ROUNDING * line.grams:
        yield f"{line.name}: {line.grams:.3g} g is too little to weigh well; make a larger batch"
