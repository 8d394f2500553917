"""Steps that nobody is free for, said in a sentence each: the crew must hear of them before the day."""

from collections.abc import Sequence

from board.house.model import House
from board.house.wording import clock_and_day, count
from board.planning.plan import PlannedBatch, PlannedLoad, PlannedStep

# What is done at the minute the pits ask for; all else may be done at other times too.
_AT_ITS_MINUTE = frozenset({"light", "set", "load", "wrap", "pull"})


def nobody_for(
    house: House,
    loads: Sequence[PlannedLoad],
    steps: Sequence[PlannedStep],
    batches: Sequence[PlannedBatch],
) -> tuple[str, ...]:
    """Each step without a person, with what it is and when, the first one first."""
    bare = sorted((step for step in steps if step.who is None), key=lambda step: (step.at, step.id))
    return tuple(_said(house, step, _what(house, step, loads, batches)) for step in bare)


def _said(house: House, step: PlannedStep, what: str) -> str:
    when = f"at {clock_and_day(step.at, house)}"
    else_ = "" if step.what in _AT_ITS_MINUTE else ", or whenever else it may be done"
    return f"Nobody is free to {step.what} {what} {when}{else_}."


def _what(
    house: House, step: PlannedStep, loads: Sequence[PlannedLoad], batches: Sequence[PlannedBatch]
) -> str:
    """What the step is done to: meat, a pit or a batch."""
    for load in loads:
        if load.id == step.load:
            return count(load.pieces, house.cuts[load.cut].name)
    if step.pit is not None:
        return house.pits[step.pit].name
    return next((house.recipes[batch.recipe].name for batch in batches if batch.id == step.batch), "a batch")
