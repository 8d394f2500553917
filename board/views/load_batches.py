"""The batches of one load: which it waits for, and which lots went into it."""

from dataclasses import dataclass

from board.house.units import format_mass
from board.ledger.state import BatchStage
from board.planning.plan import Plan, PlannedBatch, PlannedLoad
from board.views import names
from board.views.batch_times import is_gone, times
from board.views.batch_waits import LATE_MINUTES, waits
from board.views.days import when
from board.views.facts import Facts, all_batches, batch_state
from board.views.reference import ref
from board.views.text import Tone, inert


@dataclass(frozen=True, slots=True)
class LoadBatch:
    """One batch as a load sees it: a word, and what it says."""

    word: str
    says: str
    tone: Tone = Tone.PLAIN


def load_batches(facts: Facts, plan: Plan, load: PlannedLoad) -> list[LoadBatch]:
    """What a load still waits for, the first to be made first; then the lots it has taken."""
    key = ref(plan.day, load.id)
    waiting = [
        _waits(facts, of, batch, one.moves_minutes)
        for of, batch in all_batches(facts)
        for one in waits(facts, of, batch)
        if one.key == key
    ]
    return [*waiting, *_lots(facts, plan, load)]


def _waits(facts: Facts, of: Plan, batch: PlannedBatch, moves_minutes: float) -> LoadBatch:
    stage = batch_state(facts, batch, of.day).stage
    name = names.recipe_name(facts.house, batch.recipe)
    tone = Tone.LATE if moves_minutes >= LATE_MINUTES else Tone.PLAIN
    if is_gone(stage):
        return LoadBatch("waits", f"for {name}, which is {stage.value}: plan again", Tone.LATE)
    if stage is BatchStage.DUE:
        return LoadBatch("waits", f"for {name}, to make by {when(facts, batch.make_by)}", tone)
    known = times(facts, of, batch)
    ready = "ready" if known.is_ready else f"ready {when(facts, known.ready_from)}"
    return LoadBatch("waits", f"for {name}, {ready}", tone)


def _lots(facts: Facts, plan: Plan, load: PlannedLoad) -> list[LoadBatch]:
    display = facts.house.display
    return [
        LoadBatch("lot", f"{inert(use.lot or use.batch)}, {format_mass(use.kg, display)}", Tone.QUIET)
        for use in facts.uses
        if (use.day, use.load) == (plan.day, load.id)
    ]
