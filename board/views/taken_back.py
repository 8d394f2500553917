"""What stands once an entry was taken back: one sentence, so that nobody has to look."""

from collections.abc import Callable, Mapping
from datetime import date, datetime

from board.ledger.state import BatchStage, Entry, LoadStage
from board.planning.plan import PlannedLoad
from board.views import names
from board.views.days import when
from board.views.facts import Facts, batch_state, find_batch, find_load, find_step, load_state
from board.views.spots import spot
from board.views.subjects import plan_of

_STANDS: Mapping[LoadStage, str] = {
    LoadStage.PLANNED: "not begun",
    LoadStage.PREPPED: "ready for the pit",
    LoadStage.ON: "on {spot} again",
    LoadStage.WRAPPED: "wrapped and on {spot} again",
    LoadStage.PULLED: "off the pit, not at rest yet",
    LoadStage.RESTING: "at rest again",
    LoadStage.HOLDING: "in the hold again",
    LoadStage.SERVED: "served still",
    LoadStage.LOST: "lost still",
}


def stands_now(facts: Facts, taken: Entry) -> str:
    """How the thing stands that a taken-back entry was about; empty where its words say it all."""
    says = _SAYS.get(taken.kind)
    return says(facts, taken) if says else ""


def _load(facts: Facts, taken: Entry) -> str:
    load = find_load(plan_of(facts, taken.data), str(taken.data.get("load", taken.subject)))
    if load is None:
        return ""
    day = date.fromisoformat(str(taken.data["day"]))
    stage = load_state(facts, load, day).stage
    return f"{_they(load)} {_STANDS[stage].format(spot=spot(facts, load, day))}"


def _they(load: PlannedLoad) -> str:
    return "it is" if load.pieces == 1 else "they are"


def _step(facts: Facts, taken: Entry) -> str:
    step = find_step(plan_of(facts, taken.data), taken.subject)
    return f"it is to be done again, planned for {when(facts, step.at)}" if step else ""


def _batch(facts: Facts, taken: Entry) -> str:
    plan = plan_of(facts, taken.data)
    batch = find_batch(plan, taken.subject)
    if plan is None or batch is None:
        return ""
    stage = batch_state(facts, batch, plan.day).stage
    return "it is to make again" if stage is BatchStage.DUE else f"it is {stage} again"


def _fire(facts: Facts, taken: Entry) -> str:
    pit = facts.pits.get(taken.subject)
    name = names.pit_name(facts.house, taken.subject)
    if pit is None or pit.lit_at is None or pit.setpoint_c is None:
        return f"{name} is not lit"
    return f"{name} is lit and asked for {names.degrees(facts.house, pit.setpoint_c)}"


def _reading(facts: Facts, taken: Entry) -> str:
    load = find_load(plan_of(facts, taken.data), taken.subject)
    if load is not None:
        state = load_state(facts, load, date.fromisoformat(str(taken.data["day"])))
        last, at = state.last_core_c, state.last_core_at
    else:
        pit = facts.pits.get(taken.subject)
        read = facts.kept.get(taken.subject) or facts.watched.get(taken.subject) or ()
        last, at = (read[-1].temperature_c, read[-1].at) if read else (None, None)
        if pit is not None:
            last, at = pit.last_air_c, pit.last_air_at
    if last is None or at is None:
        return "nothing else was read of it"
    return f"the last is {names.degrees(facts.house, last)} at {when(facts, at)}"


def _sale(facts: Facts, taken: Entry) -> str:
    data = taken.data
    key = (date.fromisoformat(data["day"]), str(data["service"]), str(data["item"]))
    if taken.kind == "sold out":
        return "it is not sold out"
    return f"{facts.sold.get(key, 0)} are sold so far"


def _words(_: Facts, __: Entry) -> str:
    return "the next shift does not read it, the Record keeps it"


def _correction(facts: Facts, taken: Entry) -> str:
    data = taken.data
    if "was" in data:
        return f"it counts at {when(facts, datetime.fromisoformat(data['was']))} again"
    return "what was written first counts again"


def _probe(_: Facts, taken: Entry) -> str:
    return (
        "what it fed counts again" if taken.kind == "struck" else "what it fed since counts as it did before"
    )


def _watch(_: Facts, taken: Entry) -> str:
    return "it is not watched" if taken.kind == "watch" else "it is watched again"


_SAYS: Mapping[str, Callable[[Facts, Entry], str]] = {
    "batch": _batch,
    "correction": _correction,
    "handover": _words,
    "light": _fire,
    "load": _load,
    "move": _load,
    "note": _words,
    "out": _fire,
    "placed": _probe,
    "reading": _reading,
    "sale": _sale,
    "sold out": _sale,
    "step": _step,
    "struck": _probe,
    "watch": _watch,
    "watch ended": _watch,
}
