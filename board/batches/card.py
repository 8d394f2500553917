"""All a cook needs to make one batch, worked out: what to weigh, how strong, what stays, when."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from board.batches.brine import Brine, brine
from board.batches.limits import Code, Method, Product
from board.batches.meat import Meat, in_the_meat
from board.batches.merge import ready_and_use_by
from board.batches.refused import product_of, too_much
from board.batches.scale import ScaledBatch, ScaledIngredient, check_meat, covering, is_liquid, scaled
from board.batches.served import Served, cuts_taking, litres_to_cover, ml_a_piece
from board.batches.spread import SaltSpread, from_needles, from_outside, in_hours_or_days
from board.house.calendar import local
from board.house.model import Cut, House, Recipe, RecipeKind

# a cure weighed further off than this is worth a warning
CURE_ROUNDING = 0.02


@dataclass(frozen=True, slots=True)
class BatchCard:
    """One batch for so much meat; times (UTC) are None until it is known when it is made.

    `refused` says in a sentence each why it must not be made so. `meat_of` is the meat it is worked out
    for, and `ml_a_piece` how much of an injection stays in each piece.
    """

    batch: ScaledBatch
    brine: Brine | None
    meat: Meat | None
    spread: SaltSpread | None
    made_at: datetime | None
    ready_from: datetime | None
    use_by: datetime | None
    warnings: tuple[str, ...]
    refused: tuple[str, ...] = ()
    meat_of: Served | None = None
    ml_a_piece: float | None = None


def batch_card(
    house: House,
    recipe: Recipe,
    meat_kg: float,
    *,
    pickup: float | None = None,
    made_at: datetime | None = None,
    product: Product | None = None,
    place: str | None = None,
    cut: Cut | None = None,
    pieces: float | None = None,
    container_litres: float | None = None,
    on: date | None = None,
) -> BatchCard:
    """Work a recipe out for its meat.

    Args:
        house: whose recipes, cuts, scales and jurisdiction they are.
        recipe: what is made.
        meat_kg: raw meat it serves.
        pickup: a fraction of the green mass, in place of the recipe's.
        made_at: the end of making, UTC.
        product: the class the nitrite limit is read for; by the recipe or the cut where None.
        place: a jurisdiction of limits.places(); the house's own where None.
        cut: the meat's cut; the thickest that takes the recipe where None.
        pieces: how many; by the cut's usual mass where None.
        container_litres: a cover brine fills a container to this level with the meat in it.
        on: the day of making where `made_at` is not known, which chooses the edition of the limits.

    Raises:
        BoardError: the recipe cannot be made so.
    """
    served = _served(house, recipe, meat_kg, cut, pieces)
    if container_litres is not None:
        recipe = covering(recipe, meat_kg, litres_to_cover(container_litres, served))
    batch = scaled(recipe, meat_kg, pickup=pickup, surface_m2=served.surface_m2, scales=house.scales)
    day = local(made_at, house).date() if made_at else on
    water = served.cut.composition.water if served.cut else None
    code = Code(place or house.jurisdiction, product or product_of(recipe, served.cut), day)
    meat = in_the_meat(batch, code, water=water)
    strength = brine(batch.salt_percent, batch.sugar_percent) if is_liquid(recipe) else None
    spread = _spread(recipe, meat, served)
    ready_from, use_by = ready_and_use_by(recipe, made_at) if made_at else (None, None)
    refused = tuple(too_much(recipe.name, batch, meat, served.cut)) if meat else ()
    return BatchCard(
        batch=batch,
        brine=strength,
        meat=meat,
        spread=spread,
        made_at=made_at,
        ready_from=ready_from,
        use_by=use_by,
        warnings=tuple(_warnings(batch, meat, spread)),
        refused=refused,
        meat_of=served,
        ml_a_piece=ml_a_piece(recipe, served, meat.kept_kg, strength.density_kg_l)
        if meat and strength
        else None,
    )


def _served(house: House, recipe: Recipe, meat_kg: float, cut: Cut | None, pieces: float | None) -> Served:
    """The meat: of the cut named, or of the thickest that takes the recipe."""
    check_meat(recipe, meat_kg)
    if cut is None:
        cut = max(cuts_taking(house, recipe), key=lambda c: c.size.thickness_m, default=None)
    if pieces is None:
        pieces = 1.0 if cut is None else meat_kg / cut.mass_kg.usual
    return Served(meat_kg, cut, pieces)


def _spread(recipe: Recipe, meat: Meat | None, served: Served) -> SaltSpread | None:
    """How salt gets to the middle; None for what stays on the outside, or where no cut is known."""
    if meat is None or meat.method is Method.COMMINUTED or recipe.kind is RecipeKind.RUB:
        return None
    if meat.method is Method.PUMPED:
        return from_needles()
    return from_outside(served.cut.size) if served.cut else None


def _warnings(batch: ScaledBatch, meat: Meat | None, spread: SaltSpread | None) -> Iterator[str]:
    if meat:
        yield from meat.notes
        if meat.judgement.over:
            yield f"Nitrite {meat.nitrite_ppm:.0f} ppm is {meat.judgement.verdict}: do not make it so"
        if meat.nitrate and meat.nitrate.over:
            yield f"Nitrate {meat.nitrate_ppm:.0f} ppm is {meat.nitrate.verdict}: do not make it so"
    for line in batch.ingredients:
        yield from _hard_to_weigh(line, meat)
    immersed = batch.recipe.immersed_minutes
    if spread and immersed is not None and immersed < spread.hours_to_90_percent * 60:
        yield (
            f"{in_hours_or_days(immersed / 60)} in the brine is less than the "
            f"{in_hours_or_days(spread.hours_to_90_percent)} or so that salt takes to the middle: "
            "the outside ends saltier than the middle"
        )


def _hard_to_weigh(line: ScaledIngredient, meat: Meat | None) -> Iterator[str]:
    """What the scale cannot show well, and for a cure what one step of the scale is worth."""
    shown_g, step_g = line.shown.grams, line.shown.step_g
    step_ppm = 0.0
    if meat and line.nitrite_g > 0:
        step_ppm = meat.nitrite_ppm * step_g / line.grams
    worth = f"; one step of the scale, {step_g:g} g, is {step_ppm:.2g} ppm of nitrite" if step_ppm else ""
    if line.grams > 0 and shown_g == 0:
        yield f"{line.name}: {line.grams:.2g} g is less than a scale shows{worth}; make a larger batch"
    elif line.role == "cure" and step_g / 2 > CURE_ROUNDING * line.grams:
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
