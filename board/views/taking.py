"""Which steps of a load take from which batch, how much, and which loads still wait for one."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from board.house.model import StepRule
from board.ledger.state import BatchStage, Took
from board.planning.plan import Plan, PlannedBatch, PlannedLoad, PlannedStep
from board.views.facts import Facts, batch_state, find_load
from board.views.steps import is_done

if TYPE_CHECKING:
    from board.batches.served import Served

_THERE = (BatchStage.MADE, BatchStage.READY, BatchStage.USED)


@dataclass(frozen=True, slots=True)
class Claim:
    """So many kilograms of a batch are for a load, which may be of another day's plan than the batch."""

    plan: Plan
    load: PlannedLoad
    kg: float


def claims(facts: Facts, plan: Plan, batch: PlannedBatch) -> list[Claim]:
    """What a batch is for: the loads it is made for, and those that take what others left of it."""
    own = own_claims(plan, batch)
    known = {claim.load.id for claim in own}
    drawn = [
        Claim(other, load, draw.kg)
        for other in facts.plans.values()
        for draw in other.draws
        if draw.batch == batch.id and (load := find_load(other, draw.load)) and load.id not in known
    ]
    return [*own, *drawn]


def own_claims(plan: Plan, batch: PlannedBatch) -> list[Claim]:
    """What a batch is made for; where its plan does not tell how much is for each load, by their mass."""
    wanted = set(batch.loads)
    known = {load.id: load for load in plan.loads if load.id in wanted}
    loads = [known[id] for id in batch.loads if id in known]
    if len(batch.each_kg) == len(batch.loads):
        told = dict(zip(batch.loads, batch.each_kg, strict=True))
        return [Claim(plan, load, told[load.id]) for load in loads]
    meat_kg = sum(load.mass_kg for load in loads)
    return [Claim(plan, load, batch.amount_kg * load.mass_kg / meat_kg) for load in loads]


def meats_for(facts: Facts, plan: Plan, batch: PlannedBatch) -> "list[Served]":
    """The raw meat a batch is enough for, load by load; of a load that it only helps serve, its part."""
    from board.batches.served import Served  # noqa: PLC0415 - the first screen scales nothing

    told_kg = sum(batch.each_kg)
    more = batch.amount_kg / told_kg if told_kg > 0 else 1.0
    parts = [(claim.load, more * _part(facts, batch, claim)) for claim in own_claims(plan, batch)]
    cuts = facts.house.cuts
    return [Served(load.mass_kg * part, cuts.get(load.cut), load.pieces * part) for load, part in parts]


def _part(facts: Facts, batch: PlannedBatch, claim: Claim) -> float:
    """The share of a load's need that a batch covers; all of it where the plan does not tell."""
    recipe, load = facts.house.recipes.get(batch.recipe), claim.load
    cut = facts.house.cuts.get(load.cut)
    if not batch.each_kg or recipe is None or cut is None:
        return 1.0
    from board.batches.served import dose_kg  # noqa: PLC0415 - only a batch that says what each load takes

    need_kg = dose_kg(recipe, cut, load.pieces, load.mass_kg / max(1, load.pieces))
    return min(1.0, claim.kg / need_kg) if need_kg > 0 else 1.0


def rules_of(facts: Facts, load: PlannedLoad) -> tuple[StepRule, ...]:
    """The work on a load's cut before the pit and on its item before the plate, in order."""
    cut, item = facts.house.cuts.get(load.cut), facts.house.items.get(load.item)
    return (*(cut.prep if cut else ()), *(item.finish if item else ()))


def _taking(facts: Facts, plan: Plan, batch: PlannedBatch) -> list[tuple[Claim, list[PlannedStep]]]:
    """The loads that a batch is for, each with the steps that take from it, in order of time."""
    found = claims(facts, plan, batch)
    steps: dict[tuple[date, str | None], list[PlannedStep]] = {}
    for day, of in {claim.plan.day: claim.plan for claim in found}.items():
        loads = {claim.load.id for claim in found if claim.plan.day == day}
        for step in of.steps:
            if step.load in loads:
                steps.setdefault((day, step.load), []).append(step)
    return [(claim, _using(facts, claim, batch.recipe, steps.get(_key(claim), []))) for claim in found]


def _key(claim: Claim) -> tuple[date, str | None]:
    return claim.plan.day, claim.load.id


def _using(facts: Facts, claim: Claim, recipe: str, steps: list[PlannedStep]) -> list[PlannedStep]:
    whats = {rule.what for rule in rules_of(facts, claim.load) if rule.recipe == recipe}
    return sorted((step for step in steps if step.what in whats), key=lambda step: step.at)


def waiting(facts: Facts, plan: Plan, batch: PlannedBatch) -> list[tuple[Claim, PlannedStep]]:
    """The loads that a batch is for and that have not had it, each with its first step that takes it."""
    found = []
    for claim, steps in _taking(facts, plan, batch):
        left = next((step for step in steps if not is_done(facts, claim.plan, step)), None)
        if left is not None and claim.plan.day in facts.plans:
            found.append((claim, left))
    return found


def is_in_the_meat(facts: Facts, plan: Plan, batch: PlannedBatch) -> bool:
    """Whether every step that takes from a batch has been done."""
    found = [
        is_done(facts, claim.plan, step) for claim, steps in _taking(facts, plan, batch) for step in steps
    ]
    return bool(found) and all(found)


def _all(facts: Facts) -> Iterator[tuple[Plan, PlannedBatch]]:
    """Every batch of the near days, and those of older ones that are still good."""
    yield from ((plan, batch) for plan in facts.plans.values() for batch in plan.batches)
    yield from ((kept.plan, kept.batch) for kept in facts.shelf)


def took(facts: Facts, plan: Plan, step: PlannedStep) -> tuple[Took, ...]:
    """What a step takes of the batches that are there and hold something for its load."""
    if step.load is None:
        return ()
    return tuple(
        Took(batch.id, of.day, claim.kg / len(steps))
        for of, batch in _all(facts)
        if batch_state(facts, batch, of.day).stage in _THERE
        for claim, steps in _taking(facts, of, batch)
        if _key(claim) == (plan.day, step.load) and step in steps
    )
