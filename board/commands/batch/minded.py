"""What to mind of a batch: its own warnings, the house's cautions, and the rule its meat is cooked by."""

from collections.abc import Iterator

from board.batches.card import BatchCard
from board.batches.limits import Method
from board.batches.served import cuts_taking
from board.house.model import Handling, House, RecipeKind
from board.safety.cautions import cautions
from board.safety.cooked import told
from board.safety.handling import INTACT, handled
from board.safety.limits import cook_rule


def minded(card: BatchCard, house: House) -> tuple[str, ...]:
    """Its own warnings, why it must not be made so first, then cautions; each once."""
    return tuple(dict.fromkeys((*card.warnings, *_cautions(card, house))))


def cooked_as(card: BatchCard, house: House) -> Handling | None:
    """The handling whose cooking rule the meat falls under; None where the cut is not known."""
    cut = card.meat_of.cut if card.meat_of else None
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
    return f"It is cooked as {handling.value.replace('-', ' ')}: {told(rule)} ({rule.source})."


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
