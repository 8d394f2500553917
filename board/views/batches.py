"""The Batches view: what is to be made, for what, by when, how it stands, and the recipe scaled."""

from dataclasses import dataclass
from datetime import datetime

from board.batches.card import BatchCard, batch_card
from board.batches.spread import in_hours_or_days
from board.errors import BoardError
from board.house.units import format_mass, format_volume
from board.ledger.state import BatchStage, BatchState
from board.planning.plan import Plan, PlannedBatch, PlannedLoad
from board.views import names
from board.views.days import near_day, when
from board.views.facts import Facts, all_batches, batch_state, find_batch, find_load
from board.views.reference import parts, ref
from board.views.steps import is_done
from board.views.text import Tone, inert


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One batch in a line."""

    key: str
    name: str
    kind: str
    amount: str
    day: str
    make_by: str
    ready_from: str
    use_by: str
    state: str
    tone: Tone


@dataclass(frozen=True, slots=True)
class Weighing:
    """One ingredient: its name, what the scale shows, and about what a jug shows."""

    name: str
    amount: str
    about: str


@dataclass(frozen=True, slots=True)
class Card:
    """One batch's recipe scaled to its meat, what it leaves in it, and what to mind."""

    key: str
    title: str
    aside: str
    weighing: tuple[Weighing, ...]
    says: tuple[str, ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Batches:
    """The whole view, in plain values and sentences."""

    lines: tuple[BatchLine, ...]
    card: Card | None


def batches(facts: Facts, selected: str = "") -> Batches:
    """The Batches view of one moment, with the card of the chosen batch or else of the first."""
    shown = [
        (plan, batch, batch_state(facts, batch, plan.day))
        for plan, batch in all_batches(facts)
        if _matters(facts, batch, batch_state(facts, batch, plan.day))
    ]
    shown.sort(key=lambda row: (row[2].stage is not BatchStage.DUE, row[1].make_by, row[1].id))
    lines = tuple(_line(facts, plan, batch, state) for plan, batch, state in shown)
    keys = [line.key for line in lines]
    key = selected if selected in keys else next(iter(keys), "")
    return Batches(lines, card(facts, key) if key else None)


def _matters(facts: Facts, batch: PlannedBatch, state: BatchState) -> bool:
    """Batches still wanted; those used or thrown away stay for the day they were."""
    if state.stage in (BatchStage.USED, BatchStage.DISCARDED):
        return batch.use_by >= facts.now
    return True


def _line(facts: Facts, plan: Plan, batch: PlannedBatch, state: BatchState) -> BatchLine:
    says, tone = _state(facts, plan, batch, state)
    return BatchLine(
        key=ref(plan.day, batch.id),
        name=names.recipe_name(facts.house, batch.recipe),
        kind=batch.kind,
        amount=format_mass(batch.amount_kg, facts.house.display),
        day=near_day(facts, plan.day),
        make_by=when(facts, batch.make_by),
        ready_from=when(facts, batch.ready_from),
        use_by=when(facts, batch.use_by),
        state=says,
        tone=tone,
    )


def _is_in_the_meat(facts: Facts, plan: Plan, batch: PlannedBatch) -> bool:
    """Whether every step that takes from a batch has been done."""
    found = [
        is_done(facts, plan, step)
        for load in plan.loads
        if load.id in batch.loads
        for step in plan.steps
        if step.load == load.id and step.what in _taking(facts, load, batch.recipe)
    ]
    return bool(found) and all(found)


def _taking(facts: Facts, load: PlannedLoad, recipe: str) -> set[str]:
    """The kinds of step of a load that use a recipe."""
    cut, item = facts.house.cuts.get(load.cut), facts.house.items.get(load.item)
    rules = [*(cut.prep if cut else ()), *(item.finish if item else ())]
    return {rule.what for rule in rules if rule.recipe == recipe}


def _state(facts: Facts, plan: Plan, batch: PlannedBatch, state: BatchState) -> tuple[str, Tone]:
    made = f"made {when(facts, state.made_at)}" if state.made_at else "made"
    lot = f", lot {inert(state.lot)}" if state.lot else ""
    if state.stage is BatchStage.DUE:
        return ("overdue ▲", Tone.LATE) if batch.make_by < facts.now else ("to make", Tone.HEAT)
    if state.stage in (BatchStage.USED, BatchStage.DISCARDED):
        return state.stage.value, Tone.QUIET
    if _is_in_the_meat(facts, plan, batch):
        return f"{made}, all in the meat{lot}", Tone.QUIET
    if batch.use_by < facts.now:
        return f"{made}, past its use-by ▲{lot}", Tone.LATE
    ready = "ready" if _ready_from(batch, state) <= facts.now else "not ready yet"
    return f"{made}, {ready}{lot}", Tone.GOOD if ready == "ready" else Tone.CARE


def _ready_from(batch: PlannedBatch, state: BatchState) -> datetime:
    return state.ready_at or batch.ready_from


def card(facts: Facts, key: str) -> Card | None:
    """The recipe of one batch, scaled to the meat of its loads."""
    day, id = parts(key)
    plan = facts.plans.get(day)
    batch = find_batch(plan, id)
    recipe = facts.house.recipes.get(batch.recipe) if batch else None
    if plan is None or batch is None or recipe is None:
        return None
    loads = [load for load in (find_load(plan, load_id) for load_id in batch.loads) if load]
    meat_kg = sum(load.mass_kg for load in loads)
    served = names.listed([names.pieces(facts.house, load) for load in loads])
    title = names.recipe_name(facts.house, batch.recipe)
    aside = f"for {served}, {format_mass(meat_kg, facts.house.display)} of meat" if loads else ""
    notes = tuple(inert(note) for note in recipe.notes)
    try:
        made = batch_card(facts.house, recipe, meat_kg)
    except BoardError as error:
        return Card(key, title, aside, (), notes, (inert(str(error)),))
    warnings = tuple(inert(warning) for warning in made.warnings)
    return Card(key, title, aside, tuple(_weighing(made)), (*_says(facts, made), *notes), warnings)


def _weighing(made: BatchCard) -> list[Weighing]:
    return [
        Weighing(
            inert(line.name),
            f"{line.shown.amount:g} {line.shown.unit}",
            f"about {line.volume.amount:g} {line.volume.unit}" if line.volume else "",
        )
        for line in made.batch.ingredients
    ]


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
        nitrite = f", nitrite {made.meat.nitrite_ppm:.0f} ppm" if made.meat.nitrite_ppm else ""
        says.append(f"leaves {made.meat.salt_percent:.1f} % salt in the meat{nitrite}")
    if made.spread is not None:
        says.append(
            f"the middle has nine tenths of it after {in_hours_or_days(made.spread.hours_to_90_percent)}"
        )
    if made.batch.allergens:
        says.append(f"allergens: {names.listed(list(made.batch.allergens))}")
    return says
