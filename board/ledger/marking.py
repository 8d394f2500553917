"""Moving a load or a batch on to its next stage, and what a planned step does to them."""

from collections.abc import Mapping
from datetime import timedelta
from typing import Any

from board.errors import LedgerError
from board.ledger import store
from board.ledger.append import already, append, last
from board.ledger.facts import BatchFacts, LoadFacts, PitFacts, StepFacts
from board.ledger.keys import batch_key, load_key, pit_key
from board.ledger.open import Ledger
from board.ledger.plans import current_plan
from board.ledger.stages import BATCH_ORDER, LOAD_ORDER, check_moved, check_new, check_since_moved
from board.ledger.state import BatchStage, Entry, LoadStage
from board.ledger.times import day_text, stamp
from board.ledger.typed import Said
from board.planning.asked import asked_c

FIRE_STEPS = ("light", "set")
NEAR_FIRE = timedelta(hours=3)  # a fire lit further from its planned time is another one


def reach(
    ledger: Ledger,
    said: Said,
    load: LoadFacts,
    stage: LoadStage,
    *,
    data: Mapping[str, Any],
    step: str | None,
) -> Entry:
    """Mark a load's stage, and the step that reached it; or find who marked it before."""
    key = load_key(load.day, load.id)
    if stage in load.times:
        return already(ledger, last(ledger, key, stage=stage).seq)
    if stage not in LOAD_ORDER:
        raise LedgerError(f"a load is not marked {stage}; mark it one of {', '.join(LOAD_ORDER)}")
    check_new(load.id, stage, said.at, load.times, order=LOAD_ORDER, clock=ledger.clock)
    check_since_moved(load.id, stage, said.at, load.moved_at, clock=ledger.clock)
    return append(ledger, said, "load", load.id, _with_step({**data, "day": key.day, "stage": stage}, step))


def turn(
    ledger: Ledger,
    said: Said,
    batch: BatchFacts,
    stage: BatchStage,
    *,
    data: Mapping[str, Any],
    step: str | None,
) -> Entry:
    """Mark a batch's stage, and the step that made it; or find who marked it before."""
    key = batch_key(batch.day, batch.id)
    if stage in batch.times:
        return already(ledger, last(ledger, key, stage=stage).seq)
    if stage not in BATCH_ORDER:
        raise LedgerError(f"a batch is not marked {stage}; mark it one of {', '.join(BATCH_ORDER)}")
    check_new(batch.id, stage, said.at, batch.times, order=BATCH_ORDER, clock=ledger.clock)
    return append(ledger, said, "batch", batch.id, _with_step({**data, "day": key.day, "stage": stage}, step))


def carry(ledger: Ledger, said: Said, load: LoadFacts, pit: str, zone: str | None = None) -> Entry:
    """Move a load that is cooking to another pit, or zone of its own; or find who moved it before."""
    key = load_key(load.day, load.id)
    if load.moved_at is not None and (load.pit, load.zone) == (pit, zone):
        return already(ledger, last(ledger, key, kind="move", pit=pit).seq)
    check_moved(load.id, said.at, load.times, load.moved_at, clock=ledger.clock)
    if load.pit == pit and zone in (None, load.zone):
        raise LedgerError(f"{load.id} is on {pit} already; name another pit")
    data = {"day": key.day, "pit": pit, "zone": zone, "from": load.pit, "from_zone": load.zone}
    return append(ledger, said, "move", load.id, {name: each for name, each in data.items() if each})


def work_data(ledger: Ledger, step: StepFacts) -> dict[str, Any]:
    """The data of a step that is work alone; the last of a load's work before the pit preps it."""
    data: dict[str, Any] = {"day": day_text(step.day), "what": step.what}
    if step.batch:
        data["batch"] = step.batch
    if step.load:
        data["load"] = step.load
        if _preps(ledger, step):
            data["stage"] = LoadStage.PREPPED
    return data


def fire(ledger: Ledger, said: Said, pit: str, setpoint_c: float) -> Entry:
    """Light a pit or set a lit one, and do the planned step nearest the moment, if there is one."""
    step = _open_fire_step(ledger, pit, said) or {}
    now = store.stored(ledger, pit_key(pit))
    is_lit = isinstance(now, PitFacts) and now.lit_at is not None
    afresh = step.pop("what", None) == "light" or not is_lit
    return append(ledger, said, "light", pit, {"setpoint_c": setpoint_c, "afresh": afresh, **step})


def fire_by_step(ledger: Ledger, said: Said, step: StepFacts) -> Entry:
    """Light or set the pit of a planned step, at the setpoint that the plan asks for then."""
    data = {
        "day": day_text(step.day),
        "step": step.id,
        "setpoint_c": _planned_setpoint(ledger, step),
        "afresh": step.what == "light",
    }
    return append(ledger, said, "light", step.pit or "", data)


def load_of(ledger: Ledger, step: StepFacts) -> LoadFacts:
    """The load that a step is about."""
    found = store.stored(ledger, load_key(step.day, step.load or ""))
    if not isinstance(found, LoadFacts):
        raise LedgerError(f"{step.id} is about {step.load}, which no plan loads; plan the day again")
    return found


def batch_of(ledger: Ledger, step: StepFacts) -> BatchFacts:
    """The batch that a step makes."""
    found = store.stored(ledger, batch_key(step.day, step.batch or ""))
    if not isinstance(found, BatchFacts):
        raise LedgerError(f"{step.id} makes {step.batch}, which no plan names; plan the day again")
    return found


def _planned_setpoint(ledger: Ledger, step: StepFacts) -> float:
    """The setpoint of the pit after a planned step of lighting or setting it."""
    plan = current_plan(ledger, step.day)
    setpoint_c = asked_c(plan.loads, step.pit or "", step.at) if plan else None
    if setpoint_c is None:
        raise LedgerError(
            f"the plan of {step.day} loads nothing on {step.pit} then; light it with a setpoint of your own"
        )
    return setpoint_c


def _open_fire_step(ledger: Ledger, pit: str, said: Said) -> dict[str, str] | None:
    """The planned step of lighting or setting this pit nearest the moment and not done."""
    row = ledger.row(
        """SELECT id, day, what FROM steps WHERE pit = ? AND what IN ('light', 'set') AND done_seq IS NULL
        AND NOT dropped AND at BETWEEN ? AND ? ORDER BY abs(julianday(at) - julianday(?)) LIMIT 1""",
        (pit, stamp(said.at - NEAR_FIRE), stamp(said.at + NEAR_FIRE), stamp(said.at)),
    )
    return {"step": row["id"], "day": row["day"], "what": row["what"]} if row else None


def _preps(ledger: Ledger, step: StepFacts) -> bool:
    """Whether this is the last work before the pit that was still to do, on a load not on it yet."""
    load = load_of(ledger, step)
    if step.at >= load.load_at or load.stage != LoadStage.PLANNED:
        return False
    row = ledger.row(
        """SELECT 1 FROM steps s JOIN loads l ON l.day = s.day AND l.id = s.load
        WHERE s.day = ? AND s.load = ? AND s.id <> ? AND s.at < l.load_at
        AND s.what NOT IN ('light', 'set', 'load') AND s.done_seq IS NULL AND NOT s.dropped""",
        (day_text(step.day), load.id, step.id),
    )
    return row is None


def _with_step(data: dict[str, Any], step: str | None) -> dict[str, Any]:
    return {**data, "step": step} if step else data
