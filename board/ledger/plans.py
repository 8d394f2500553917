"""Plans as committed: every version kept, and what changed from one to the next, in words."""

import json
from collections import Counter
from collections.abc import Callable
from datetime import date, datetime
from functools import lru_cache
from hashlib import sha256
from typing import Any
from zoneinfo import ZoneInfo

from board.errors import LedgerError, PlanError
from board.ledger import record, store, typed
from board.ledger.faults import MENDS
from board.ledger.keys import planned_keys
from board.ledger.open import Ledger
from board.ledger.state import Entry, PlanVersion
from board.ledger.times import day_text, moment
from board.planning.plan import Plan, PlannedBatch, PlannedLoad
from board.planning.plan_json import from_json, to_json


class OvertakenError(LedgerError):
    """Another plan of the day was committed since this one was begun; nothing is committed over it."""

    def __init__(self, version: PlanVersion, clock: str) -> None:
        super().__init__(f"{version.who} committed another plan of {version.day} at {clock}; this one is not")
        self.version = version


def commit_plan(
    ledger: Ledger,
    plan: Plan,
    reason: str = "",
    *,
    over: int | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Commit a plan as the one in force for its day.

    It replaces what was not started of the version before. Nothing is undone: the next takes its place.

    Args:
        ledger: where it is recorded.
        plan: all loads for one day.
        reason: why it was planned again.
        over: the version that was in force when it was planned, 0 for none; None replaces any.
        who: commits it.
        at: when.
        noted_at: now.

    Raises:
        OvertakenError: another version is in force by now.
        LedgerError: a doubtful time, or a reason too long.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        _check_in_force(ledger, plan.day, over)
        before = current_plan(ledger, plan.day)
        version = version_in_force(ledger, plan.day) + 1
        document = record.canonical(to_json(plan))
        data = {"version": version, "reason": typed.text(reason, "reason") if reason else ""}
        day = day_text(plan.day)
        entry = record.write(ledger, said, "plan", day, data | _told(before, document))
        ledger.db.execute("INSERT INTO plans VALUES (?, ?, ?, ?)", (entry.seq, day, version, document))
        keys = planned_keys(json.loads(document)) | (planned_keys(to_json(before)) if before else frozenset())
        store.take_in(ledger, entry, sorted(keys))
        return entry


def _check_in_force(ledger: Ledger, day: date, over: int | None) -> None:
    if over is not None and version_in_force(ledger, day) != over:
        last = plan_versions(ledger, day)[-1]
        raise OvertakenError(last, ledger.clock(last.at))


def _told(before: Plan | None, document: str) -> dict[str, Any]:
    """What the record tells of a plan's document: how it came out, what it changes, and its fingerprint."""
    after = from_json(json.loads(document))  # both as rounded on paper
    changed = list(changes(before, after))
    return {"result": after.result, "changes": changed, "sha256": sha256(document.encode()).hexdigest()}


def current_plan(ledger: Ledger, day: date) -> Plan | None:
    """The plan in force for a day, if one was committed."""
    row = ledger.row(
        "SELECT document FROM plans WHERE day = ? ORDER BY version DESC LIMIT 1", (day_text(day),)
    )
    return _committed(ledger, day, row["document"]) if row else None


def _committed(ledger: Ledger, day: date, document: str) -> Plan:
    try:
        return _plan(document)
    except (PlanError, ValueError) as error:
        says = f"the ledger {ledger.path} is damaged: a plan of {day} cannot be read ({error})"
        raise LedgerError(f"{says}; {MENDS}") from error


@lru_cache(maxsize=32)
def _plan(document: str) -> Plan:
    """A plan as its document has it; committed ones never change and are asked for at each look."""
    return from_json(json.loads(document))


def plan_of_version(ledger: Ledger, day: date, version: int) -> Plan | None:
    """One version of a day's plan."""
    row = ledger.row("SELECT document FROM plans WHERE day = ? AND version = ?", (day_text(day), version))
    return _committed(ledger, day, row["document"]) if row else None


def plan_versions(ledger: Ledger, day: date) -> list[PlanVersion]:
    """All versions of a day's plan, the first one first."""
    rows = ledger.rows(
        """SELECT p.version, e.at, e.who, e.data FROM plans p JOIN entries e USING (seq)
        WHERE p.day = ? ORDER BY p.version""",
        (day_text(day),),
    )
    return [_version(day, row) for row in rows]


def planned_days(ledger: Ledger, first: date, last: date) -> list[date]:
    """The days from first to last that have a committed plan."""
    rows = ledger.rows(
        "SELECT DISTINCT day FROM plans WHERE day BETWEEN ? AND ? ORDER BY day",
        (day_text(first), day_text(last)),
    )
    return [date.fromisoformat(row["day"]) for row in rows]


def changes(before: Plan | None, after: Plan) -> tuple[str, ...]:
    """What a new version changes, one sentence a change; times in the plan's zone.

    Args:
        before: the version it replaces, or None for the first.
        after: the new version.
    """
    if before is None:
        loads, batches = _count(len(after.loads), "load"), _count(len(after.batches), "batch", "batches")
        return (f"first plan: {loads}, {batches}",)
    called = _names(before, after)
    old = {load.id: load for load in before.loads}
    new = {load.id: load for load in after.loads}
    sentences = [f"{called(load)} dropped" for name, load in old.items() if name not in new]
    sentences += [f"{called(load)} added on {_spot(load)}" for name, load in new.items() if name not in old]
    for name, load in new.items():
        if name in old:
            sentences += [f"{called(load)} {what}" for what in _moves(old[name], load, ZoneInfo(after.zone))]
    return tuple(sentences + _batch_changes(before.batches, after.batches, ZoneInfo(after.zone)))


def _moves(old: PlannedLoad, new: PlannedLoad, zone: ZoneInfo) -> list[str]:
    """What changed about one load."""
    found = []
    if (new.pit, new.zone) != (old.pit, old.zone):
        found.append(f"moved from {_spot(old)} to {_spot(new)}")
    if new.pieces != old.pieces:
        found.append(f"{_count(new.pieces, 'piece')} instead of {old.pieces}")
    if new.setpoint_c != old.setpoint_c:
        found.append(f"cooked at {new.setpoint_c:.0f} °C instead of {old.setpoint_c:.0f} °C")
    if (new.turn_at, new.then_c) != (old.turn_at, old.then_c):
        found.append(_turn(new, zone))
    if new.load_at != old.load_at:
        found.append(f"load at {_instead(new.load_at, old.load_at, zone)}")
    return found


def _spot(load: PlannedLoad) -> str:
    return load.pit if load.zone is None else f"{load.pit}, {load.zone}"


def _turn(load: PlannedLoad, zone: ZoneInfo) -> str:
    """What becomes of a load's change of setpoint."""
    if load.turn_at is None or load.then_c is None:
        return f"stays at {load.setpoint_c:.0f} °C"
    return f"turned to {load.then_c:.0f} °C at {load.turn_at.astimezone(zone):%H:%M}"


def _batch_changes(old: tuple[PlannedBatch, ...], new: tuple[PlannedBatch, ...], zone: ZoneInfo) -> list[str]:
    was, now = {batch.id: batch for batch in old}, {batch.id: batch for batch in new}
    found = [f"{batch.recipe} dropped" for name, batch in was.items() if name not in now]
    found += [f"{batch.recipe} added" for name, batch in now.items() if name not in was]
    for name, batch in now.items():
        if name in was and batch.amount_kg != was[name].amount_kg:
            found.append(f"{batch.recipe}: {batch.amount_kg:.2f} kg instead of {was[name].amount_kg:.2f} kg")
        if name in was and batch.make_by != was[name].make_by:
            found.append(f"{batch.recipe}: make by {_instead(batch.make_by, was[name].make_by, zone)}")
    return found


def _names(*plans: Plan) -> Callable[[PlannedLoad], str]:
    """What to call a load: by its cut where that is the only load of it, else by its id."""
    several = {cut for plan in plans for cut, n in Counter(load.cut for load in plan.loads).items() if n > 1}
    return lambda load: load.id if load.cut in several else load.cut


def _instead(new: datetime, old: datetime, zone: ZoneInfo) -> str:
    here, there = new.astimezone(zone), old.astimezone(zone)
    pattern = "%H:%M" if here.date() == there.date() else "%H:%M on %Y-%m-%d"
    return f"{here.strftime(pattern)} instead of {there.strftime(pattern)}"


def _count(n: int, one: str, many: str | None = None) -> str:
    return f"{n} {one if n == 1 else many or one + 's'}"


def version_in_force(ledger: Ledger, day: date) -> int:
    """The version of a day's plan that is in force; 0 where none was committed."""
    row = ledger.row("SELECT max(version) AS version FROM plans WHERE day = ?", (day_text(day),))
    return int(row["version"] or 0) if row else 0


def _version(day: date, row: dict[str, Any]) -> PlanVersion:
    data = json.loads(row["data"])
    return PlanVersion(
        row["version"], day, moment(row["at"]), row["who"], data["reason"], tuple(data["changes"])
    )
