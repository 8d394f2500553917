"""The steps of the near days: what each says, whether it is done, and when it now falls due."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.units import format_mass
from board.ledger.state import BatchStage, LoadStage
from board.planning.asked import asked_c
from board.planning.plan import Plan, PlannedLoad, PlannedStep
from board.views import names
from board.views.facts import (
    Facts,
    all_loads,
    all_steps,
    batch_state,
    find_batch,
    find_load,
    load_state,
)
from board.views.likely import likely_times
from board.views.progress import Revised, due_by
from board.views.spots import spot
from board.views.text import inert
from board.views.turning import due, is_turned, turned_by

_ORDER = list(LoadStage)
# a load that stands at this stage or beyond has had the step
_REACHED = {
    "load": LoadStage.ON,
    "wrap": LoadStage.WRAPPED,
    "pull": LoadStage.PULLED,
    "rest": LoadStage.RESTING,
    "hold": LoadStage.HOLDING,
}
_AT_PIT = ("load", "pull", "wrap")
# steps of a batch that follow its making
_CHILLING = frozenset({"chill", "check"})
_MADE, _COLD = (
    frozenset(BatchStage) - {BatchStage.DUE},
    frozenset(BatchStage) - {BatchStage.DUE, BatchStage.MADE},
)


@dataclass(frozen=True, slots=True)
class Due:
    """A step still to be done, when it now falls due, and how it is said: whole, shortly, or in two parts."""

    step: PlannedStep
    at: datetime
    says: str
    short: str
    what: str
    where: str
    plan: Plan


def to_do(facts: Facts, until: datetime, revised: Revised | None = None) -> list[Due]:
    """The steps not done that fall due before a moment, in order of time."""
    left = [(plan, step) for plan, step in all_steps(facts) if not is_done(facts, plan, step)]
    due = [(plan, step, at) for plan, step in left if (at := due_at(facts, plan, step, revised)) < until]
    found = [
        Due(
            step,
            at,
            say(facts, plan, step),
            say_shortly(facts, plan, step),
            *say_apart(facts, plan, step),
            plan,
        )
        for plan, step, at in due
    ]
    return sorted(found, key=lambda due: (due.at, due.step.id))


def is_done(facts: Facts, plan: Plan, step: PlannedStep) -> bool:
    """Whether a step was marked, or what it leads to has been."""
    if (plan.day, step.id) in facts.done:
        return True
    if step.batch is not None and step.load is None:
        batch = find_batch(plan, step.batch)
        reached = _COLD if step.what in _CHILLING else _MADE
        return batch is not None and batch_state(facts, batch, plan.day).stage in reached
    load = find_load(plan, step.load)
    if load is None:
        return _is_lit(facts, plan, step)
    stage = load_state(facts, load, plan.day).stage
    if stage in (LoadStage.SERVED, LoadStage.LOST):
        return True
    if step.what not in _REACHED and step.at >= load.load_at:
        return False
    return _ORDER.index(stage) >= _ORDER.index(_REACHED.get(step.what, LoadStage.ON))


def _is_lit(facts: Facts, plan: Plan, step: PlannedStep) -> bool:
    """Whether a pit has its fire: lit about then, turned so, or meat already on it since."""
    turned = is_turned(facts, plan, step)
    if turned is not None:
        return turned
    later = [load for load in plan.loads if load.pit == step.pit and load.load_at >= step.at]
    if any(load_state(facts, load, plan.day).on_at is not None for load in later):
        return True
    pit = facts.pits.get(step.pit or "")
    if step.what != "light" or pit is None or pit.lit_at is None:
        return False
    return pit.lit_at >= step.at - timedelta(hours=3)


def due_at(facts: Facts, plan: Plan, step: PlannedStep, revised: Revised | None = None) -> datetime:
    """When a step now falls due: what follows loading moves with the load's progress.

    What follows the pull is never before it, and work after the rest moves by as much as the load is late.
    """
    load = find_load(plan, step.load)
    if load is None:
        turned = turned_by(plan, step)
        return (due(facts, plan, turned) if turned else None) or step.at
    if step.at <= load.load_at:
        return step.at
    state = load_state(facts, load, plan.day)
    if state.on_at is None:
        return step.at
    likely = likely_times(facts, plan, load, revised)
    if step.what == "pull":
        return likely.pull.p50
    if step.at < load.pull_at.p50:
        return step.at + (state.on_at - load.load_at)
    late = timedelta() if step.what in _REACHED else likely.ready.p50 - due_by(load)
    return max(step.at, step.at + late, likely.pull.p50)


def next_of(facts: Facts, plan: Plan, load_id: str) -> PlannedStep | None:
    """The next step of a load that has not been done."""
    steps = sorted((s for s in plan.steps if s.load == load_id), key=lambda s: s.at)
    return next((s for s in steps if not is_done(facts, plan, s)), None)


def say(facts: Facts, plan: Plan, step: PlannedStep) -> str:
    """A step as one would call it across the yard: `pull 6 shoulders from South`."""
    house = facts.house
    load, batch = find_load(plan, step.load), find_batch(plan, step.batch)
    what = inert(step.what)
    if load is not None:
        return _say_load(facts, what, load, _where(facts, plan, step, load))
    pit = names.pit_name(house, step.pit)
    if batch is not None:
        amount = format_mass(batch.amount_kg, house.display)
        return f"{what} {amount} {names.recipe_name(house, batch.recipe)}{_to_show(facts, step)}"
    if step.what in ("light", "set") and pit:
        setpoint = asked_c((one for _, one in all_loads(facts)), step.pit or "", step.at)
        return f"{what} {pit} to {names.degrees(house, setpoint)}" if setpoint else f"{what} {pit}"
    return f"{what} {pit}".strip()


def say_shortly(facts: Facts, plan: Plan, step: PlannedStep) -> str:
    """A step in fewer words, a batch without its amount: `pull 6 shoulders, South`, `make cider glaze`."""
    load, batch = find_load(plan, step.load), find_batch(plan, step.batch)
    if load is None and batch is not None:
        name = names.recipe_name(facts.house, batch.recipe)
        return f"{inert(step.what)} {name}{_to_show(facts, step)}"
    if load is None or step.what not in _AT_PIT:
        return say(facts, plan, step)
    return f"{step.what} {names.pieces(facts.house, load)}, {_where(facts, plan, step, load)}"


def say_apart(facts: Facts, plan: Plan, step: PlannedStep) -> tuple[str, str]:
    """What a step is, and apart from it where it is done: `pull 6 shoulders`, `South`."""
    load = find_load(plan, step.load)
    if load is None:
        return say_shortly(facts, plan, step), ""
    what = f"{inert(step.what)} {names.pieces(facts.house, load)}"
    if step.what == "hold":
        return what, names.place_name(facts.house, load.hold or "the hold")
    return what, _where(facts, plan, step, load) if step.what in _AT_PIT else ""


def _to_show(facts: Facts, step: PlannedStep) -> str:
    """What a reading must show, where the step takes one."""
    return f" is at most {names.degrees(facts.house, step.most_c)}" if step.most_c is not None else ""


def _where(facts: Facts, plan: Plan, step: PlannedStep, load: PlannedLoad) -> str:
    """Where a load's step is done: where it went on or was moved to, once it was."""
    if load_state(facts, load, plan.day).on_at is not None and step.what != "load":
        return spot(facts, load, plan.day)
    return names.spot_name(facts.house, step.pit or load.pit, load.zone)


def _say_load(facts: Facts, what: str, load: PlannedLoad, pit: str) -> str:
    meat = names.pieces(facts.house, load)
    if what == "load":
        return f"load {meat} on {pit}"
    if what == "pull":
        return f"pull {meat} from {pit}"
    cut = facts.house.cuts.get(load.cut)
    if what == "wrap" and cut is not None and cut.wrap is not None:
        return f"wrap {meat} in {cut.wrap.material.value} on {pit}"
    if what == "hold":
        return f"move {meat} to {names.place_name(facts.house, load.hold or 'the hold')}"
    return f"{what} {meat}"
