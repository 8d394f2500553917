"""The cautions that belong to what the house is about to do."""

from collections.abc import Iterable
from datetime import timedelta

from board.house.model import Handling, RecipeKind
from board.planning.plan import Plan, PlannedStep
from board.safety import cautions as table
from board.views.facts import Facts, find_batch, find_load
from board.views.steps import to_do

_SOON = timedelta(hours=3)


def cautions(facts: Facts) -> tuple[str, ...]:
    """The cautions for the work of the next hours, the first work's first, each once."""
    topics = [
        topic for due in to_do(facts, facts.now + _SOON) for topic in _topics(facts, due.plan, due.step)
    ]
    return tuple(
        sentence for topic in dict.fromkeys([*topics, "undercooked"]) for sentence in table.cautions(topic)
    )


def _topics(facts: Facts, plan: Plan, step: PlannedStep) -> Iterable[str]:
    """What can hurt someone in one step."""
    if step.what == "light":
        yield from ("ash", "monoxide", "fire")
    batch = find_batch(plan, step.batch)
    recipe = facts.house.recipes.get(batch.recipe) if batch else None
    if recipe is not None and recipe.kind is RecipeKind.CURE:
        yield "cure"
    if recipe is not None and recipe.kind is RecipeKind.BRINE:
        yield "brine"
    load = find_load(plan, step.load)
    cut = facts.house.cuts.get(load.cut) if load else None
    if cut is None:
        return
    if step.what == "inject" or cut.handling is Handling.INJECTED:
        yield "injected"
    if cut.handling in (Handling.POULTRY, Handling.STUFFED):
        yield "poultry"
