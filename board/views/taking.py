"""Which steps of a load take from which batch, how much, and which loads still wait for one."""

from board.house.model import StepRule
from board.ledger.state import BatchStage, Took
from board.planning.plan import Plan, PlannedBatch, PlannedLoad, PlannedStep
from board.views.facts import Facts, batch_state, find_load
from board.views.steps import is_done

_THERE = (BatchStage.MADE, BatchStage.READY, BatchStage.USED)


def rules_of(facts: Facts, load: PlannedLoad) -> tuple[StepRule, ...]:
    """The work on a load's cut before the pit and on its item before the plate, in order."""
    cut, item = facts.house.cuts.get(load.cut), facts.house.items.get(load.item)
    return (*(cut.prep if cut else ()), *(item.finish if item else ()))


def taking_steps(facts: Facts, plan: Plan, load: PlannedLoad, recipe: str) -> list[PlannedStep]:
    """A load's planned steps that use a recipe, in order of time."""
    whats = {rule.what for rule in rules_of(facts, load) if rule.recipe == recipe}
    return sorted((s for s in plan.steps if s.load == load.id and s.what in whats), key=lambda s: s.at)


def served(plan: Plan, batch: PlannedBatch) -> list[PlannedLoad]:
    """The loads of a plan that a batch is for."""
    return [load for load in (find_load(plan, id) for id in batch.loads) if load]


def waiting(facts: Facts, plan: Plan, batch: PlannedBatch) -> list[tuple[PlannedLoad, PlannedStep]]:
    """The loads that a batch is for and that have not had it, each with its first step that takes it."""
    found = []
    for load in served(plan, batch):
        left = [s for s in taking_steps(facts, plan, load, batch.recipe) if not is_done(facts, plan, s)]
        if left:
            found.append((load, left[0]))
    return found


def is_in_the_meat(facts: Facts, plan: Plan, batch: PlannedBatch) -> bool:
    """Whether every step that takes from a batch has been done."""
    found = [s for load in served(plan, batch) for s in taking_steps(facts, plan, load, batch.recipe)]
    return bool(found) and all(is_done(facts, plan, step) for step in found)


def took(facts: Facts, plan: Plan, step: PlannedStep) -> tuple[Took, ...]:
    """What a step takes of the batches that are there: its load's share of each by mass."""
    load = find_load(plan, step.load)
    if load is None:
        return ()
    return tuple(
        Took(batch.id, plan.day, _share_kg(facts, plan, batch, load))
        for batch in plan.batches
        if load.id in batch.loads
        and step in taking_steps(facts, plan, load, batch.recipe)
        and batch_state(facts, batch, plan.day).stage in _THERE
    )


def _share_kg(facts: Facts, plan: Plan, batch: PlannedBatch, load: PlannedLoad) -> float:
    meat_kg = sum(one.mass_kg for one in served(plan, batch))
    return batch.amount_kg * load.mass_kg / meat_kg / len(taking_steps(facts, plan, load, batch.recipe))
