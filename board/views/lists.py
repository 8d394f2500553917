"""What to buy and what to pull out over some days, by when it is taken in hand, less what is done already.

An ingredient counts on the day its batch is made, meat on the day of its first step, fuel on the day its fire
is lit: what is on the list of a span must be in the house in that span.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from board.errors import BoardError
from board.house.calendar import day_bounds
from board.house.spans import minutes_between
from board.ledger.state import BatchStage, LoadStage
from board.planning.plan import Plan, PlannedBatch, PlannedLoad, PlannedStep
from board.views import names
from board.views.batch_card import card_of
from board.views.batch_times import times
from board.views.facts import Facts, all_batches, all_loads, batch_state, load_state
from board.views.gather import WALK_IN
from board.views.reference import ref
from board.views.steps import is_done

WATER = "water"
FREEZER = "freezer"
_THAW, _TEMPER = "thaw", "temper"


@dataclass(frozen=True, slots=True)
class Ingredient:
    """So many grams of an ingredient, and the recipes it goes into."""

    name: str
    grams: float
    recipes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Meat:
    """Raw pieces of a cut, their mass, and the planned days they are for."""

    cut: str
    pieces: int
    mass_kg: float
    days: tuple[date, ...]


@dataclass(frozen=True, slots=True)
class Fuel:
    """About how much of a fuel the fires of the span burn."""

    fuel: str
    mass_kg: float


@dataclass(frozen=True, slots=True)
class Pull:
    """Meat to take out: when, from where, for which step, of which load (its key)."""

    at: datetime
    place: str
    what: str
    cut: str
    pieces: int
    mass_kg: float
    load: str


@dataclass(frozen=True, slots=True)
class Lists:
    """What to buy and what to pull out from one day to another; `unknown` are batches that cannot be told."""

    first: date
    last: date
    ingredients: tuple[Ingredient, ...]
    meat: tuple[Meat, ...]
    fuel: tuple[Fuel, ...]
    pulls: tuple[Pull, ...]
    unknown: tuple[str, ...] = ()


def lists(facts: Facts, first: date, last: date) -> Lists:
    """The lists of a span of days, both ends in it.

    Raises:
        BoardError: the span ends before it begins.
    """
    if last < first:
        raise BoardError(
            f"the span ends on {last}, before it begins on {first}; give --from no later than --to"
        )
    begins, ends = day_bounds(first, facts.house.zone)[0], day_bounds(last, facts.house.zone)[1]
    batches = [pair for pair in all_batches(facts) if _is_made_in(facts, *pair, begins, ends)]
    ingredients, unknown = _ingredients(facts, batches)
    return Lists(
        first,
        last,
        ingredients,
        _meat(facts, begins, ends),
        _fuel(facts, begins, ends),
        tuple(sorted(_pulls(facts, begins, ends), key=lambda one: (one.at, one.load))),
        unknown,
    )


def _is_made_in(facts: Facts, plan: Plan, batch: PlannedBatch, begins: datetime, ends: datetime) -> bool:
    """Whether a batch is still to be made, and in the span."""
    due = batch_state(facts, batch, plan.day).stage is BatchStage.DUE
    return due and begins <= times(facts, plan, batch).made_at < ends


def _ingredients(
    facts: Facts, batches: list[tuple[Plan, PlannedBatch]]
) -> tuple[tuple[Ingredient, ...], tuple[str, ...]]:
    """The sum of each ingredient but water, without what is on the scale already."""
    grams: dict[str, float] = defaultdict(float)
    recipes: dict[str, dict[str, None]] = defaultdict(dict)
    unknown = []
    for plan, batch in batches:
        weighed = {one.line for one in facts.weighed.get((plan.day, batch.id), ())}
        try:
            lines = card_of(facts, plan, batch).batch.ingredients
        except BoardError as error:
            unknown.append(f"{names.recipe_name(facts.house, batch.recipe)}: {error}")
            continue
        for number, line in enumerate(lines, start=1):
            if number not in weighed and line.name.casefold() != WATER:
                grams[line.name] += line.grams
                recipes[line.name][names.recipe_name(facts.house, batch.recipe)] = None
    found = (Ingredient(name, sum_g, tuple(recipes[name])) for name, sum_g in sorted(grams.items()))
    return tuple(found), tuple(unknown)


def _first_steps(facts: Facts) -> Iterator[tuple[Plan, PlannedLoad, PlannedStep]]:
    """Each load that nobody has touched yet, with its first step."""
    for plan, load in all_loads(facts):
        steps = sorted((s for s in plan.steps if s.load == load.id), key=lambda s: s.at)
        untouched = load_state(facts, load, plan.day).stage is LoadStage.PLANNED
        if steps and untouched and not any(is_done(facts, plan, s) for s in steps):
            yield plan, load, steps[0]


def _meat(facts: Facts, begins: datetime, ends: datetime) -> tuple[Meat, ...]:
    wanted: dict[str, list[tuple[Plan, PlannedLoad]]] = defaultdict(list)
    for plan, load, step in _first_steps(facts):
        if begins <= step.at < ends:
            wanted[load.cut].append((plan, load))
    return tuple(
        Meat(
            cut,
            sum(load.pieces for _, load in found),
            sum(load.mass_kg for _, load in found),
            tuple(sorted({plan.day for plan, _ in found})),
        )
        for cut, found in sorted(wanted.items())
    )


def _fuel(facts: Facts, begins: datetime, ends: datetime) -> tuple[Fuel, ...]:
    """What the fires still to be lit burn, from lighting to the last likely pull."""
    last: dict[tuple[str, datetime], datetime] = {}
    for _, load in all_loads(facts):
        if begins <= load.light_at < ends and load.light_at >= facts.now and load.pit in facts.house.pits:
            fire = (load.pit, load.light_at)
            last[fire] = max(last.get(fire, load.pull_at.p50), load.pull_at.p50)
    burnt: dict[str, float] = defaultdict(float)
    for (pit, lit_at), off in last.items():
        kind = facts.house.pits[pit]
        burnt[kind.fuel] += kind.fuel_kg_per_hour * minutes_between(lit_at, off) / 60
    return tuple(Fuel(fuel, kg) for fuel, kg in sorted(burnt.items()) if kg > 0)


def _pulls(facts: Facts, begins: datetime, ends: datetime) -> Iterator[Pull]:
    """Meat to take out of the freezer to thaw, of the walk-in to temper, or for its first step."""
    firsts = {(plan.day, step.id) for plan, _, step in _first_steps(facts)}
    for plan, load in all_loads(facts):
        for step in plan.steps:
            taken = step.what in (_THAW, _TEMPER) or (plan.day, step.id) in firsts
            if step.load == load.id and taken and begins <= step.at < ends and not is_done(facts, plan, step):
                place = FREEZER if step.what == _THAW else WALK_IN
                key = ref(plan.day, load.id)
                yield Pull(step.at, place, step.what, load.cut, load.pieces, load.mass_kg, key)
