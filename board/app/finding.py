"""What can have its temperature taken, in the order it is offered."""

from board.app.dialogs.pick import Choice
from board.house.model import RecipeKind
from board.ledger.state import LoadStage
from board.views import names
from board.views.batch_times import is_gone
from board.views.days import when
from board.views.facts import OFF_AND_THERE, Facts, all_batches, all_loads, batch_state
from board.views.gather import WALK_IN
from board.views.likely import counted_state
from board.views.progress import Revised
from board.views.reference import ref
from board.views.spots import spot
from board.views.subjects import food
from board.views.taking import is_in_the_meat
from board.views.watching import running

_COOKING = (LoadStage.ON, LoadStage.WRAPPED)


def place_choices(facts: Facts, revised: Revised | None = None) -> list[Choice]:
    """What may have a temperature now: loads cooking, then those kept for a service, pits and holds.

    What came off for a service that is over is not asked about any more.
    """
    house = facts.house
    cooking: list[Choice] = []
    waiting: list[Choice] = []
    for plan, load in all_loads(facts):
        state = counted_state(facts, plan, load, revised)
        ends = [occasion.until for occasion in plan.occasions if occasion.id in load.services]
        wanted = state.stage in OFF_AND_THERE and max(ends, default=facts.now) >= facts.now
        if state.stage in _COOKING or wanted:
            last = f"last {names.degrees(house, state.last_core_c)}" if state.last_core_c is not None else ""
            what = f"{names.pieces(house, load)}, {spot(facts, load, plan.day)}"
            choice = Choice(f"load:{ref(plan.day, load.id)}", what, last)
            (waiting if wanted else cooking).append(choice)
    chilling = _batches(facts)
    pits = [Choice(f"place:{id}", f"{pit.name}, the pit", _air(facts, id)) for id, pit in house.pits.items()]
    watches = [
        Choice(f"place:{watch.id}", food(watch), f"{watch.kind}, since {when(facts, watch.started_at)}")
        for watch in running(facts)
    ]
    holds = [Choice(f"place:{id}", hold.name, "") for id, hold in house.holds.items()]
    return [*cooking, *waiting, *chilling, *watches, *pits, *holds, Choice(f"place:{WALK_IN}", WALK_IN, "")]


def _batches(facts: Facts) -> list[Choice]:
    """Brines, cures and glazes that are made and neither gone nor all in the meat, each by its lot."""
    found = []
    for plan, batch in all_batches(facts):
        state = batch_state(facts, batch, plan.day)
        kept = not is_gone(state.stage) and not is_in_the_meat(facts, plan, batch)
        if state.made_at is not None and kept and batch.kind != RecipeKind.RUB:
            read = facts.chilling.get((plan.day, batch.id), ())
            last = f"last {names.degrees(facts.house, read[-1].temperature_c)}" if read else ""
            name = f"{names.recipe_name(facts.house, batch.recipe)}, lot {state.lot}"
            found.append(Choice(f"place:{state.lot or state.id}", name, last))
    return found


def _air(facts: Facts, pit: str) -> str:
    state = facts.pits.get(pit)
    if state is None or state.setpoint_c is None:
        return "not lit"
    return f"asked for {names.degrees(facts.house, state.setpoint_c)}"
