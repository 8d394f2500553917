"""The cautions that belong to a step, what matters most first, and those of what the house is about to do."""

from collections.abc import Iterable, Iterator
from datetime import timedelta

from board.house.degrees import in_one_scale
from board.house.model import Handling, House, RecipeKind
from board.ledger.state import WatchKind
from board.planning.cooked.words import reading
from board.planning.plan import CookedBy, Plan, PlannedLoad, PlannedStep
from board.safety import cautions as table
from board.safety.handling import BIRDS, handled
from board.views.checks import LEFT, PREFIX, READ
from board.views.facts import Facts, find_batch, find_load, find_watch, occasions
from board.views.steps import to_do
from board.views.text import Cell, Tone, inert

_SOON = timedelta(hours=3)
_CLOSING = timedelta(hours=1)
# What can hurt most comes first, whatever step it belongs to.
_ORDER = ("cure", "injected", "undercooked", "cooling", "monoxide", "fat", "poultry", "fire", "ash", "brine")


def topics_of(house: House, plan: Plan, step: PlannedStep) -> tuple[str, ...]:
    """What can hurt someone in one step, most first; topics of the table of cautions."""
    load, batch = find_load(plan, step.load), find_batch(plan, step.batch)
    found = set(_of_work(step))
    if batch is not None and step.load is None:
        found |= set(_of_making(house, batch.recipe))
    if load is not None and load.cut in house.cuts:
        found |= set(_of_meat(house, load, step))
    return tuple(topic for topic in _ORDER if topic in found)


def caution_of(house: House, plan: Plan, step: PlannedStep) -> Cell | None:
    """The one caution to show at a step, with its short form; None where nothing in it hurts."""
    own = _to_read(house, plan, step)
    if own:
        return Cell(own, Tone.CARE)
    topic = next(iter(topics_of(house, plan, step)), None)
    return _cell(house, topic) if topic else None


def of_topic(house: House, topic: str) -> tuple[str, ...]:
    """The cautions of a topic, their temperatures in the house's scale."""
    return tuple(in_one_scale(says, house.display) for says in table.cautions(topic))


def _cell(house: House, topic: str) -> Cell:
    short = in_one_scale(table.in_short(topic), house.display)
    return Cell(of_topic(house, topic)[0], Tone.QUIET, short=short)


def caution_of_check(facts: Facts, key: str) -> Cell | None:
    """The one caution to show at a reading that is due: of food that cools, or is heated again."""
    place = key.removeprefix(PREFIX)
    watch = find_watch(facts, place.removeprefix(f"{READ}place:"))
    if place.startswith(LEFT) or (watch is not None and watch.kind is WatchKind.COOLING):
        return _cell(facts.house, "cooling")
    return (
        _cell(facts.house, "undercooked") if watch is not None and watch.kind is WatchKind.REHEATING else None
    )


def cautions(facts: Facts) -> tuple[str, ...]:
    """The cautions for the work of the next hours: what must be read, then the first of each topic.

    The most harmful topics come first, whichever step they are for.
    """
    soon = to_do(facts, facts.now + _SOON)
    topics = [topic for due in soon for topic in topics_of(facts.house, due.plan, due.step)]
    topics = sorted({*topics, *_at_close(facts), "undercooked"}, key=_ORDER.index)
    own = [_to_read(facts.house, due.plan, due.step) for due in soon]
    first = [of_topic(facts.house, topic)[0] for topic in topics]
    more = [sentence for topic in topics for sentence in of_topic(facts.house, topic)[1:]]
    return tuple(dict.fromkeys(filter(None, (*own, *first, *more))))


def by_topic(house: House, plan: Plan) -> dict[str, tuple[str, ...]]:
    """The kinds of step of a plan that each topic belongs to, most harmful first."""
    kinds: dict[str, dict[str, None]] = {topic: {} for topic in _ORDER}
    for step in plan.steps:
        for topic in topics_of(house, plan, step):
            kinds[topic][inert(step.what)] = None
    return {topic: tuple(whats) for topic, whats in kinds.items() if whats}


def _of_work(step: PlannedStep) -> Iterator[str]:
    """What hurts in a kind of work, whatever it is done to."""
    if step.what == "light":
        yield from ("monoxide", "fire", "ash")
    if step.what in ("wrap", "pull"):
        yield "fat"
    if step.what.startswith("cool"):
        yield "cooling"


def _of_making(house: House, recipe: str) -> Iterator[str]:
    """What hurts in making a batch."""
    made = house.recipes.get(recipe)
    if made is None:
        return
    if made.kind is RecipeKind.CURE or any(i.nitrite or i.nitrate for i in made.ingredients):
        yield "cure"
    if made.boil_minutes:
        yield "cooling"
    if made.kind is RecipeKind.BRINE:
        yield "brine"


def _of_meat(house: House, load: PlannedLoad, step: PlannedStep) -> Iterator[str]:
    """What hurts in work on meat: raw up to loading, to be cooked through before it is served."""
    cut = house.cuts[load.cut]
    recipe = next((rule.recipe for rule in cut.prep if rule.what == step.what), None)
    if step.at <= load.load_at:
        yield from _of_making(house, recipe or "")
        if cut.handling in BIRDS:
            yield "poultry"
    if step.at <= load.load_at or step.what == "pull":
        if handled(cut, house.recipes) is Handling.INJECTED:
            yield "injected"
    elif step.what != "wrap":
        yield "undercooked"


def _to_read(house: House, plan: Plan, step: PlannedStep) -> str:
    """What the plan says must be read of a load that relies on its rest, at its pull and after it."""
    load = find_load(plan, step.load)
    cooked = plan.cooked.get(load.id) if load else None
    if load is None or cooked is None or cooked.by is not CookedBy.REST or load.cut not in house.cuts:
        return ""
    return reading(house, load, cooked) if step.what == "pull" or step.at > load.pull_at.p50 else ""


def _at_close(facts: Facts) -> Iterable[str]:
    """Ash and leftovers, once the last service of the day is nearly over."""
    ends = [occasion.until for plan, occasion in occasions(facts) if plan.day == facts.today]
    return ("cooling", "ash") if ends and max(ends) - _CLOSING <= facts.now <= max(ends) + _SOON else ()
