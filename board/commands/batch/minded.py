"""What to mind of a batch: its own warnings, the house's cautions, and the rule its meat is cooked by."""

from collections.abc import Iterator
from math import isfinite

from board.batches.card import BatchCard
from board.batches.chill import Chilled, chilled, too_slow
from board.batches.limits import Method
from board.batches.served import cuts_taking
from board.house.degrees import in_one_scale
from board.house.model import ChillWay, Handling, House, RecipeKind
from board.house.units import format_mass, format_temperature
from board.house.wording import duration
from board.safety.cautions import cautions
from board.safety.cooked import told
from board.safety.handling import INTACT, handled
from board.safety.limits import cook_rule, cooling


def minded(card: BatchCard, house: House) -> tuple[str, ...]:
    """Its own warnings, why it must not be made so first, then cautions; each once."""
    recipe, cooled = card.batch.recipe, chilling(card, house)
    slow = too_slow(recipe, cooled, cooling(house.jurisdiction), house.display) if cooled else None
    chill = (slow,) if slow else ()
    told_of = dict.fromkeys((*card.warnings, *chill, *_cautions(card, house)))
    return tuple(in_one_scale(says, house.display) for says in told_of)


def chilling(card: BatchCard, house: House) -> Chilled | None:
    """How a batch is cooled; None for one that is not boiled, or in a pot of which nothing is known."""
    recipe = card.batch.recipe
    pot = house.pot_of(recipe)
    return chilled(recipe, card.batch.batch_kg, pot, cooling(house.jurisdiction))


def chilling_says(card: BatchCard, house: House) -> str | None:
    """A sentence on how a batch is cooled, with its ice; None where nothing is known of it."""
    recipe, cooled = card.batch.recipe, chilling(card, house)
    if cooled is None or not isfinite(cooled.minutes):
        return None
    ice = format_mass(cooled.ice_kg, house.display)
    how = {
        ChillWay.ICE: f"by weighing in {ice} of its water as ice",
        ChillWay.ICE_BATH: f"in a bath of about {ice} of ice, stirred",
        ChillWay.WALK_IN: "in the walk-in",
    }[cooled.way]
    cold = format_temperature(recipe.chilled_to_c, house.display)
    boil, takes = duration(recipe.boil_minutes), duration(cooled.minutes)
    return f"Boil it {boil}, then cool it to {cold} {how}: {takes}."


def cooked_as(card: BatchCard, house: House) -> Handling | None:
    """The handling whose cooking rule the meat falls under; None where the cut is not known."""
    cut = card.meat_of.cut
    if cut is None or card.meat is None:
        return None
    handling = handled(cut, house.recipes)
    if card.meat.method is Method.PUMPED and handling in INTACT:
        return Handling.INJECTED
    return handling


def cooking_says(card: BatchCard, house: House) -> str | None:
    """A sentence on how the meat must be cooked; None where the cut is not known."""
    handling = cooked_as(card, house)
    if handling is None:
        return None
    rule = cook_rule(handling, house.jurisdiction)
    says = in_one_scale(told(rule), house.display)
    return f"It is cooked as {handling.value.replace('-', ' ')}: {says} ({rule.source})."


def _cautions(card: BatchCard, house: House) -> Iterator[str]:
    """The cautions that this batch calls for."""
    if card.meat and card.meat.nitrite_ppm > 0:
        yield from cautions("cure")
    if (
        card.meat
        and card.meat.method is Method.PUMPED
        and cooked_as(card, house) in (None, Handling.INJECTED)
    ):
        yield from cautions("injected")
    if card.brine:
        yield from cautions("brine")
        if card.batch.recipe.ready_after_minutes > 0:
            yield from cautions("cooling")
    takers = cuts_taking(house, card.batch.recipe)
    if card.batch.recipe.kind is not RecipeKind.GLAZE and any(c.handling == "poultry" for c in takers):
        yield from cautions("poultry")
