"""Moving a load or a batch on to its next stage, and what a planned step does to them."""

from collections.abc import Mapping
from typing import Any

from board.errors import LedgerError
from board.ledger import store
from board.ledger.append import already, append, last
from board.ledger.fold import BatchFacts, LoadFacts, StepFacts
from board.ledger.keys import batch_key, load_key
from board.ledger.open import Ledger
from board.ledger.stages import BATCH_ORDER, LOAD_ORDER, check_new
from board.ledger.state import BatchStage, Entry, LoadStage
from board.ledger.times import day_text
from board.ledger.typed import Said


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


def planned_setpoint(ledger: Ledger, day: str, pit: str, load: str | None) -> float:
    """The setpoint the plan gives a pit: for this load, else for the first load it takes."""
    row = ledger.row(
        """SELECT json_extract(l.value, '$.setpoint_c') AS setpoint_c
        FROM plans p, json_each(p.document, '$.loads') l
        WHERE p.day = ? AND p.version = (SELECT max(version) FROM plans WHERE day = p.day)
        AND json_extract(l.value, '$.pit') = ?
        ORDER BY json_extract(l.value, '$.id') = ? DESC, json_extract(l.value, '$.load_at') LIMIT 1""",
        (day, pit, load),
    )
    if row is None:
        raise LedgerError(f"the plan of {day} loads nothing on {pit}; light it with a setpoint of your own")
    return float(row["setpoint_c"])


def open_light_step(ledger: Ledger, pit: str, said: Said) -> dict[str, str]:
    """The planned step of lighting this pit that is nearest the moment and not done, as data."""
    row = ledger.row(
        """SELECT id, day FROM steps WHERE pit = ? AND what = 'light' AND done_seq IS NULL AND NOT dropped
        AND abs(julianday(at) - julianday(?)) <= 0.5 ORDER BY abs(julianday(at) - julianday(?)) LIMIT 1""",
        (pit, said.at.isoformat(), said.at.isoformat()),
    )
    return {"step": row["id"], "day": row["day"]} if row else {}


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


def _preps(ledger: Ledger, step: StepFacts) -> bool:
    """Whether this is the last work before the pit that was still to do, on a load not on it yet."""
    load = load_of(ledger, step)
    if step.at >= load.load_at or load.stage != LoadStage.PLANNED:
        return False
    row = ledger.row(
        """SELECT 1 FROM steps s JOIN loads l ON l.day = s.day AND l.id = s.load
        WHERE s.day = ? AND s.load = ? AND s.id <> ? AND s.at < l.load_at
        AND s.what <> 'light' AND s.what <> 'load' AND s.done_seq IS NULL AND NOT s.dropped""",
        (day_text(step.day), load.id, step.id),
    )
    return row is None


def _with_step(data: dict[str, Any], step: str | None) -> dict[str, Any]:
    return {**data, "step": step} if step else data
