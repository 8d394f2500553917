"""All a cook needs to make one batch, worked out: what to weigh, how strong, what stays, when."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from board.batches.brine import Brine, brine
from board.batches.limits import Code, Method, Product
from board.batches.meat import Meat, in_the_meat
from board.batches.merge import ready_and_use_by
from board.batches.minding import warnings
from board.batches.refused import product_of, too_much, too_much_together
from board.batches.scale import check_meat, covering, filling, scaled
from board.batches.scaled_batch import ScaledBatch
from board.batches.served import Served, cuts_taking, kg_to_cover, litres_to_cover, ml_a_piece
from board.batches.spread import SaltSpread, from_needles, from_outside
from board.batches.together import Together, others_on, together
from board.errors import BoardError
from board.house.allergens import AllergenHint, allergen_hints
from board.house.calendar import local
from board.house.doses import is_injected, is_liquid
from board.house.library import PIECE_KG
from board.house.model import Container, Cut, House, Recipe, RecipeKind


@dataclass(frozen=True, slots=True)
class BatchCard:
    """One batch for so much meat; times (UTC) are None until it is known when it is made.

    `refused` says in a sentence each why it must not be made so, and `warnings` begins with them.
    `meat_of` is the meat it is worked out for, and `ml_a_piece` how much of an injection stays in each
    piece. `together` is what the meat ends with once it has all its other recipes too. `hints` are
    allergens the ingredients usually hold, where the house's own list (`batch.allergens`) says nothing of
    them. `code` says whose limits were read.
    """

    batch: ScaledBatch
    brine: Brine | None
    meat: Meat | None
    spread: SaltSpread | None
    made_at: datetime | None
    ready_from: datetime | None
    use_by: datetime | None
    warnings: tuple[str, ...]
    refused: tuple[str, ...]
    meat_of: Served
    ml_a_piece: float | None
    together: Together | None
    hints: tuple[AllergenHint, ...]
    code: Code


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
    container: Container | float | None = None,
    on: date | None = None,
    beside: Sequence[Recipe] = (),
    surface_m2: float | None = None,
) -> BatchCard:
    """Work a recipe out for raw meat.

    Args:
        pickup: a fraction of the green mass, in place of the recipe's.
        made_at: the end of making, UTC; `on` its day, where only that is known.
        product: the class the nitrite limit is read for; by the recipe or the cut where None.
        place: a jurisdiction of limits.places(); the house's own where None.
        cut: the meat's cut; the thickest that takes the recipe where None.
        pieces: how many; by the cut's usual mass where None.
        container: a cover brine fills it with the meat in it, to what it takes or to so many litres.
        beside: other recipes on the same meat, besides those its cut is given before the pit.
        surface_m2: of all the meat, where it is of more cuts than one; by the cut where None.

    Raises BoardError where the recipe cannot be made so.
    """
    served = _served(house, recipe, meat_kg, cut, pieces)
    recipe = recipe if container is None else _filling(recipe, served, container)
    skin_m2 = surface_m2 or served.surface_m2
    batch = scaled(recipe, meat_kg, pickup=pickup, surface_m2=skin_m2, scales=house.scales)
    day = local(made_at, house).date() if made_at else on
    code = Code(place or house.jurisdiction, product or product_of(recipe, served.cut), day)
    given = others_on(house, recipe, served)
    known = {recipe.id, *(each.id for each in given)}
    others = (*given, *(each for each in dict.fromkeys(beside) if each.id not in known))
    return _worked_out(batch, served, code, others, made_at)


def _worked_out(
    batch: ScaledBatch, served: Served, code: Code, others: Sequence[Recipe], made_at: datetime | None
) -> BatchCard:
    """All that is told of a batch that is scaled, with the other recipes its meat is given."""
    recipe = batch.recipe
    meat = in_the_meat(batch, code, water=served.water)
    strength = brine(batch.salt_percent, batch.sugar_percent) if is_liquid(recipe) else None
    spread = _spread(recipe, meat, served)
    ready_from, use_by = ready_and_use_by(recipe, made_at) if made_at else (None, None)
    found = together(recipe.name, meat, others, served, code) if meat else None
    refused = _refused(batch, meat, served.cut, found)
    return BatchCard(
        batch=batch,
        brine=strength,
        meat=meat,
        spread=spread,
        made_at=made_at,
        ready_from=ready_from,
        use_by=use_by,
        warnings=(*refused, *warnings(batch, meat, spread)),
        refused=refused,
        meat_of=served,
        ml_a_piece=ml_a_piece(recipe, served, meat.kept_kg, strength.density_kg_l)
        if meat and strength
        else None,
        together=found,
        hints=allergen_hints(recipe.ingredients),
        code=code,
    )


def _refused(
    batch: ScaledBatch, meat: Meat | None, cut: Cut | None, found: Together | None
) -> tuple[str, ...]:
    """Why it must not be made so: by itself, or else by what it comes to with the others."""
    if meat is None:
        return ()
    name = batch.recipe.name
    return tuple(too_much(name, batch, meat, cut)) or tuple(too_much_together(name, meat, found))


def _filling(recipe: Recipe, served: Served, container: Container | float) -> Recipe:
    """A cover brine made so large that it fills a container with the meat in it."""
    _check_cover(recipe)
    if isinstance(container, Container):
        return filling(recipe, served.meat_kg, kg_to_cover(container, served))
    return covering(recipe, served.meat_kg, litres_to_cover(container, served))


def _check_cover(recipe: Recipe) -> None:
    if not is_liquid(recipe) or is_injected(recipe):
        raise BoardError(
            f"{recipe.name}: a container is filled with a brine the meat lies in, "
            "one with water and `immersed`"
        )
    if not any(i.basis == "kg" and i.amount > 0 for i in recipe.ingredients):
        raise BoardError(
            f"{recipe.name}: all of it is counted of the meat, so no container can be filled with it; "
            "write its water as a mass, such as 1 kg"
        )


def _served(house: House, recipe: Recipe, meat_kg: float, cut: Cut | None, pieces: float | None) -> Served:
    """The meat: of the cut named, or of the thickest that takes the recipe."""
    check_meat(recipe, meat_kg)
    if cut is None:
        cut = max(cuts_taking(house, recipe), key=lambda c: c.size.thickness_m, default=None)
    if pieces is None:
        pieces = 1.0 if cut is None else meat_kg / cut.mass_kg.usual
    elif not PIECE_KG[0] <= meat_kg / pieces <= PIECE_KG[1]:
        raise BoardError(
            f"{meat_kg:g} kg in {pieces:g} pieces is {meat_kg / pieces:.3g} kg each; "
            f"allowed {PIECE_KG[0]:g} to {PIECE_KG[1]:g} kg"
        )
    return Served(meat_kg, cut, pieces)


def _spread(recipe: Recipe, meat: Meat | None, served: Served) -> SaltSpread | None:
    """How salt gets to the middle; None for what stays on the outside, or where no cut is known."""
    if meat is None or meat.method is Method.COMMINUTED or recipe.kind is RecipeKind.RUB:
        return None
    if meat.method is Method.PUMPED:
        spread = from_needles(recipe.holes_m)
    elif served.cut is None:
        return None
    else:
        spread = from_outside(served.cut.size, served.piece_kg)
    hours, rest_hours = planned_hours(recipe, served.cut)
    return replace(spread, planned=spread.after(hours, rest_hours)) if hours > 0 else spread


def planned_hours(recipe: Recipe, cut: Cut | None) -> tuple[float, float]:
    """Hours the meat is in a brine, or has after the pump, and the least it then waits for the pit.

    Nought where neither the recipe nor the cut's steps say.
    """
    gaps = [] if cut is None else [(step.recipe, step.gap_minutes[0] / 60) for step in cut.prep]
    at = next((n for n, (id, _) in enumerate(gaps) if id == recipe.id), None)
    after = sum(hours for _, hours in gaps[at:]) if at is not None else 0.0
    if recipe.immersed_minutes is None or is_injected(recipe):
        return after, 0.0
    lain = recipe.immersed_minutes / 60
    return lain, max(0.0, after - lain)
