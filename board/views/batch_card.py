"""The card of one batch: its recipe scaled to its meat, what it leaves there, what waits and what to mind."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from board.batches.card import BatchCard, batch_card
from board.batches.spread_words import spread_says
from board.errors import BoardError
from board.house.calendar import local
from board.house.model import ChillWay
from board.house.units import format_mass, format_volume
from board.house.wording import count
from board.ledger.facts import UseFacts
from board.planning.plan import Plan, PlannedBatch, PlannedStep
from board.views import names
from board.views.batch_times import planned_end, times
from board.views.batch_waits import Waiting, fails, waits, waits_line
from board.views.days import when
from board.views.facts import Facts, find_batch, find_load
from board.views.reference import parts
from board.views.steps import is_done, say_shortly
from board.views.taking import claims, meats_for, own_claims
from board.views.text import inert
from board.views.weighing import Scale, ScaleLine, scale


@dataclass(frozen=True, slots=True)
class Card:
    """One batch's recipe scaled to its meat, what it leaves in it, and what to mind.

    `total` is the sum on the scale; `steps` the planned work on the batch, done or to do. `warnings` is what
    must not be made or used as it is, `minds` what to know beside.
    """

    key: str
    title: str
    aside: str
    weighing: tuple[ScaleLine, ...]
    says: tuple[str, ...]
    warnings: tuple[str, ...]
    total: str = ""
    steps: tuple[str, ...] = ()
    minds: tuple[str, ...] = ()


def planned(facts: Facts, key: str) -> tuple[Plan, PlannedBatch] | None:
    """A batch with its plan by its key; None when no plan has it any more."""
    day, id = parts(key)
    plan = facts.plans.get(day)
    batch = find_batch(plan, id)
    kept = ((one.plan, one.batch) for one in facts.shelf if (one.plan.day, one.batch.id) == (day, id))
    return (plan, batch) if plan is not None and batch is not None else next(kept, None)


def card_of(facts: Facts, plan: Plan, batch: PlannedBatch, made_at: datetime | None = None) -> BatchCard:
    """A planned batch worked out for the meat of its loads.

    Raises:
        BoardError: the recipe is not known, or cannot be made so.
    """
    recipe = facts.house.recipes.get(batch.recipe)
    if recipe is None:
        raise BoardError(f"the house has no recipe {batch.recipe} any more; plan the day again")
    cuts = {claim.load.cut for claim in own_claims(plan, batch)}
    cut = facts.house.cuts.get(cuts.pop()) if len(cuts) == 1 else None
    meats = meats_for(facts, plan, batch)
    return batch_card(
        facts.house,
        recipe,
        sum(meat.meat_kg for meat in meats),
        made_at=made_at,
        cut=cut,
        pieces=sum(meat.pieces for meat in meats) if cut else None,
        surface_m2=sum(meat.surface_m2 or 0.0 for meat in meats) or None,
        on=local(planned_end(plan, batch), facts.house).date(),
    )


def scale_of(facts: Facts, key: str) -> Scale | None:
    """A batch on the scale; None when it is in no plan, or cannot be made so."""
    found = planned(facts, key)
    if found is None:
        return None
    plan, batch = found
    try:
        made = card_of(facts, plan, batch)
    except BoardError:
        return None
    return scale(facts, made, facts.weighed.get((plan.day, batch.id), ()), batch.ice_kg)


def card(facts: Facts, key: str) -> Card | None:
    """The recipe of one batch, scaled to the meat of its loads."""
    found = planned(facts, key)
    if found is None:
        return None
    plan, batch = found
    recipe = facts.house.recipes.get(batch.recipe)
    title, aside = names.recipe_name(facts.house, batch.recipe), _aside(facts, plan, batch)
    about = _about(facts, plan, batch, waits(facts, plan, batch))
    notes = tuple(inert(note) for note in recipe.notes) if recipe else ()
    try:
        made = card_of(facts, plan, batch)
    except BoardError as error:
        return Card(key, title, aside, (), (*about, *notes), (inert(str(error)),))
    weighed = scale(facts, made, facts.weighed.get((plan.day, batch.id), ()), batch.ice_kg)
    return Card(
        key,
        title,
        aside,
        weighed.lines,
        (*about, *_says(facts, made), *_made_in(facts, batch), *_went(facts, plan, batch), *notes),
        tuple(dict.fromkeys([*weighed.minds, *map(inert, made.refused)])),
        weighed.total,
        tuple(_step(facts, plan, step) for step in batch_steps(plan, batch)),
        tuple(inert(warning) for warning in made.warnings if warning not in made.refused),
    )


def _aside(facts: Facts, plan: Plan, batch: PlannedBatch) -> str:
    loads = [claim.load for claim in claims(facts, plan, batch)]
    kg = format_mass(sum(meat.meat_kg for meat in meats_for(facts, plan, batch)), facts.house.display)
    return f"for {names.all_pieces(facts.house, loads)}, {kg} of meat" if loads else ""


def batch_steps(plan: Plan, batch: PlannedBatch) -> list[PlannedStep]:
    """The planned work on a batch itself, such as making and chilling it, in order."""
    own = [step for step in plan.steps if step.batch == batch.id and step.load is None]
    return sorted(own, key=lambda step: (step.at, step.id))


def _step(facts: Facts, plan: Plan, step: PlannedStep) -> str:
    done = " ✓" if is_done(facts, plan, step) else ""
    who = f", {names.person_name(facts.house, step.who)}" if step.who else ""
    return f"{when(facts, step.at)} {say_shortly(facts, plan, step)}, {step.minutes:.0f} min{who}{done}"


def _about(facts: Facts, plan: Plan, batch: PlannedBatch, waiting: Sequence[Waiting]) -> tuple[str, ...]:
    """What waits for a batch and fails with it, and how its readiness is known."""
    known = times(facts, plan, batch)
    said = (
        waits_line(facts, waiting),
        *fails(facts, plan, batch, waiting),
        known.known,
    )
    return tuple(one for one in said if one)


def _went(facts: Facts, plan: Plan, batch: PlannedBatch) -> tuple[str, ...]:
    """Which loads took how much of a batch, and when."""
    used = [use for use in facts.uses if (use.batch_day, use.batch) == (plan.day, batch.id)]
    return tuple(
        f"{_taker(facts, use)} took {format_mass(use.kg, facts.house.display)} {when(facts, use.at)}"
        for use in used
    )


def _taker(facts: Facts, use: UseFacts) -> str:
    load = find_load(facts.plans.get(use.day), use.load)
    return names.pieces(facts.house, load) if load else inert(use.load)


def _made_in(facts: Facts, batch: PlannedBatch) -> list[str]:
    """What it is made in, with how much ice, and what it is kept in; nothing where no plan says."""
    pots = _container(facts, batch.vessel)
    ice = f", {_ice(facts, batch)}" if batch.ice_kg > 0 else ""
    made = f"in {count(max(1, batch.vessels), pots)}{ice}" if pots else ""
    kept = _container(facts, batch.container)
    said = ", ".join(filter(None, (made, f"kept in {kept}" if kept and kept != pots else "")))
    return [said] if said else []


def _ice(facts: Facts, batch: PlannedBatch) -> str:
    """The ice that cools it: a part of its own water, or a bath around it."""
    much, recipe = format_mass(batch.ice_kg, facts.house.display), facts.house.recipes.get(batch.recipe)
    is_water = recipe is not None and recipe.chill is ChillWay.ICE
    return f"{much} of its water as ice" if is_water else f"in a bath of {much} of ice"


def _container(facts: Facts, id: str | None) -> str:
    found = facts.house.containers.get(id or "")
    return inert(found.name) if found else ""


def _says(facts: Facts, made: BatchCard) -> list[str]:
    """How much it makes, how strong it is, what stays in the meat and when the middle has it."""
    display = facts.house.display
    amount = f"makes {format_mass(made.batch.batch_kg, display)}"
    if made.batch.litres is not None:
        amount += f", {format_volume(made.batch.litres, display)}"
    says = [amount]
    if made.brine is not None:
        says.append(f"brine of {made.batch.salt_percent:.1f} % salt")
    if made.meat is not None:
        says.append(f"leaves {made.meat.salt_percent:.1f} % salt in the meat")
        if made.meat.nitrite_ppm:  # first, for it is what a cure is judged by
            says.insert(
                0, f"nitrite {made.meat.nitrite_ppm:.0f} ppm in the meat: {made.meat.judgement.verdict}"
            )
    if made.ml_a_piece is not None and made.meat_of.cut is not None:
        each = format_mass(made.meat_of.piece_kg, display)
        says.append(f"about {round(made.ml_a_piece, -1):g} mL into each {each} piece")
    if made.together is not None:
        given = names.listed(list(made.together.recipes))
        says.append(f"{made.together.salt_percent:.1f} % salt in all, with {given}")
    if made.batch.allergens:
        says.append(f"allergens: {names.listed(list(made.batch.allergens))}")
    if made.hints:
        held = names.listed([f"{hint.ingredient} ({', '.join(hint.names)})" for hint in made.hints])
        says.append(f"usually also holds: {held}; read the label of the pack in hand")
    if made.spread is not None:
        says += spread_says(made.spread)
    return says
