"""What the label of a batch says: what it is, its lot, who made it when, and how long it may be used."""

from dataclasses import dataclass, replace
from datetime import date, datetime

from board.batches.card import BatchCard
from board.errors import BoardError
from board.house.calendar import local
from board.house.doses import is_liquid
from board.house.model import RecipeKind
from board.house.units import format_mass, format_volume
from board.house.wording import short_day
from board.ledger.state import BatchStage, BatchState
from board.planning.plan import Plan, PlannedBatch
from board.views import names
from board.views.batch_card import card_of
from board.views.batch_times import BatchTimes, is_gone, times
from board.views.facts import Facts, all_batches, batch_state
from board.views.taking import claims
from board.views.text import inert

BLANK = "____________"
_RAW = "raw brine: discard after use"
_TOUCHED = "discard what has touched raw meat"
_CAUTION = "Contains nitrite: not table salt; only for the meat it was weighed for"


@dataclass(frozen=True, slots=True)
class Label:
    """One label: name and lot large, then what is said of the batch, then what to mind."""

    name: str
    lot: str
    says: tuple[str, ...]
    minds: tuple[str, ...]


def labels_of_day(facts: Facts, day: date) -> list[Label]:
    """The labels of the batches made on a day of the house, or to be made on it."""
    return [
        one
        for plan, batch in all_batches(facts)
        for one in labels(facts, plan, batch)
        if local(times(facts, plan, batch).made_at, facts.house).date() == day
        and not is_gone(batch_state(facts, batch, plan.day).stage)
    ]


def labels(facts: Facts, plan: Plan, batch: PlannedBatch) -> list[Label]:
    """A label for each pot or tub that a batch is made in."""
    one, pots = label(facts, plan, batch), max(1, batch.vessels)
    return [
        replace(one, says=(*one.says, f"{n} of {pots}") if pots > 1 else one.says) for n in range(1, pots + 1)
    ]


def label(facts: Facts, plan: Plan, batch: PlannedBatch) -> Label:
    """The label of one batch; what is not known before it is made is left to write by hand."""
    state, known = batch_state(facts, batch, plan.day), times(facts, plan, batch)
    try:
        made: BatchCard | None = card_of(facts, plan, batch)
    except BoardError:
        made = None
    says = (
        _amount(facts, batch, made),
        _made(facts, state),
        *_dates(facts, state, known),
        _served(facts, plan, batch),
        *_strength(made),
        _allergens(facts, batch),
    )
    minds = _minds(batch, made)
    name = names.recipe_name(facts.house, batch.recipe)
    return Label(name, inert(state.lot or BLANK), tuple(text for text in says if text), minds)


def _amount(facts: Facts, batch: PlannedBatch, made: BatchCard | None) -> str:
    display = facts.house.display
    litres = made.batch.litres if made is not None and is_liquid(made.batch.recipe) else None
    volume = f", {format_volume(litres, display)}" if litres is not None else ""
    return f"{format_mass(batch.amount_kg, display)}{volume}"


def _made(facts: Facts, state: BatchState) -> str:
    if state.made_at is None or state.stage is BatchStage.DUE:
        return f"made {BLANK} by {BLANK}"
    who = names.person_name(facts.house, state.made_by) if state.made_by else BLANK
    return f"made {_dated(facts, state.made_at)} by {who}"


def _dates(facts: Facts, state: BatchState, known: BatchTimes) -> tuple[str, str]:
    if state.made_at is None:
        return f"ready from {BLANK}", f"use by {BLANK}"
    return f"ready from {_dated(facts, known.ready_from)}", f"use by {_dated(facts, known.use_by)}"


def _dated(facts: Facts, moment: datetime) -> str:
    day = local(moment, facts.house).date()
    return f"{short_day(day)} {day.year} {names.clock(facts.house, moment)}"


def _served(facts: Facts, plan: Plan, batch: PlannedBatch) -> str:
    meat = names.all_pieces(facts.house, [claim.load for claim in claims(facts, plan, batch)])
    return f"for {meat}" if meat else ""


def _strength(made: BatchCard | None) -> tuple[str, ...]:
    """How strong a cure is, in the batch and in the meat it is for."""
    if made is None or made.batch.nitrite_g <= 0:
        return ()
    percent = made.batch.nitrite_g / made.batch.batch_kg / 10
    meat = f", {made.meat.nitrite_ppm:.0f} ppm in the meat" if made.meat else ""
    return (f"sodium nitrite {percent:.3g} %{meat}",)


def _allergens(facts: Facts, batch: PlannedBatch) -> str:
    """What the recipe names, also where no card can be made of it; no recipe, nothing known."""
    recipe = facts.house.recipes.get(batch.recipe)
    if recipe is None:
        return "allergens: NOT KNOWN, its recipe is not in the house's files any more"
    named = sorted({name for ingredient in recipe.ingredients for name in ingredient.allergens})
    if not named:
        return "allergens: none named in the recipe"
    return inert(f"allergens: {names.listed(named).upper()}")


def _minds(batch: PlannedBatch, made: BatchCard | None) -> tuple[str, ...]:
    wet = made is not None and is_liquid(made.batch.recipe)
    raw = _RAW if wet or batch.kind == RecipeKind.BRINE else _TOUCHED
    unknown = made is None and batch.kind == RecipeKind.CURE
    cure = (_CAUTION,) if unknown or (made is not None and made.batch.nitrite_g > 0) else ()
    return (*(() if batch.kind == RecipeKind.GLAZE else (raw,)), *cure)
