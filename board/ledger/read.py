"""What the ledger knows, as plain data for views and commands; nothing here writes.

Several reads that must agree go inside one `with ledger.reading():` block.
"""

from collections.abc import Sequence
from datetime import date, datetime
from typing import Any, TypeVar

from board.house.probes import Silence
from board.ledger import record, store
from board.ledger.facts import (
    AlarmFacts,
    BatchFacts,
    Facts,
    LoadFacts,
    OccasionFacts,
    PinFacts,
    ReadingFacts,
    RegroupFacts,
    SaleFacts,
    StepFacts,
    UseFacts,
    WatchFacts,
    WeighedFacts,
)
from board.ledger.fed import fed_readings, thinned_readings
from board.ledger.find import BATCHES_IN_PLAY, LOADS_IN_PLAY
from board.ledger.fold import standing
from board.ledger.keys import menu_key
from board.ledger.open import Ledger, Row
from board.ledger.plans import current_plan, plan_of_version, plan_versions, planned_days, version_in_force
from board.ledger.state import (
    BatchState,
    Entry,
    LoadState,
    PitState,
    Reading,
    SaleState,
    StepState,
)
from board.ledger.times import day_text, moment, stamp
from board.ledger.together import last_timed
from board.ledger.undo import last_undoable

__all__ = [
    "answers",
    "batch_states",
    "batches_named",
    "began_at",
    "current_plan",
    "data_version",
    "entries",
    "entries_of_load",
    "entry",
    "is_fed_alone",
    "kept_batches",
    "last_handover",
    "last_reading",
    "last_timed",
    "last_undoable",
    "load_states",
    "occasions",
    "open_steps",
    "pins",
    "pit_states",
    "plan_of_version",
    "plan_versions",
    "planned_days",
    "promises",
    "readings",
    "regroups",
    "since_handover",
    "sold",
    "step_states",
    "uses",
    "uses_of",
    "version_in_force",
    "watch",
    "watches",
    "weighings",
]

Told = TypeVar("Told", BatchState, StepState, Reading)


def data_version(ledger: Ledger) -> tuple[int, int]:
    """A value that changes whenever the ledger does, by whatever hand; microseconds to ask."""
    return ledger.rows("PRAGMA data_version")[0]["data_version"], record.last_seq(ledger)


def is_fed_alone(ledger: Ledger, seq: int) -> bool:
    """Whether nothing but what probes feed was written after an entry, and something was."""
    later = ledger.rows("SELECT DISTINCT kind = 'fed' AS fed FROM entries WHERE seq > ?", (seq,))
    return [row["fed"] for row in later] == [1]


def entry(ledger: Ledger, seq: int) -> Entry | None:
    """The entry of that number."""
    return record.find(ledger, seq)


def entries(
    ledger: Ledger,
    *,
    since_seq: int | None = None,
    since: datetime | None = None,
    until: datetime | None = None,
    kinds: Sequence[str] | None = None,
    limit: int | None = None,
) -> list[Entry]:
    """Entries of the record, undone ones marked; those of probe feeds only where `kinds` asks for them.

    Args:
        ledger: where to read.
        since_seq: only entries written after this one; they come in the order of the record.
        since: only what happened at or after this; without `since_seq`, in the order it happened.
        until: only what happened before this.
        kinds: only these kinds.
        limit: at most so many, the latest ones.
    """
    clauses, values = _conditions(
        ("e.seq > ?", since_seq),
        ("e.at >= ?", stamp(since) if since else None),
        ("e.at < ?", stamp(until) if until else None),
    )
    if kinds is None:
        clauses.append("e.kind <> 'fed'")
    else:
        column = "+e.kind" if clauses else "e.kind"  # the + keeps a narrow search by time or number
        clauses.append(f"{column} IN ({', '.join('?' * len(kinds))})")
        values.extend(kinds)
    order = "e.seq DESC" if since_seq is not None else "e.at DESC, e.seq DESC"
    sql = f"{record.SELECT} WHERE {' AND '.join(clauses) or '1'} ORDER BY {order}{_limit(limit)}"
    return [record.as_entry(row) for row in reversed(ledger.rows(sql, values))]


def began_at(ledger: Ledger) -> datetime | None:
    """When the first entry was written; None while there is none."""
    row = ledger.row("SELECT noted_at FROM entries ORDER BY seq LIMIT 1")
    return _moment(row["noted_at"]) if row else None


def last_handover(ledger: Ledger) -> Entry | None:
    """The handover signed last, unless it was taken back."""
    row = ledger.row(
        f"""{record.SELECT} WHERE e.kind = 'handover' AND {record.STANDS}
        ORDER BY e.seq DESC LIMIT 1"""
    )
    return record.as_entry(row) if row else None


def since_handover(ledger: Ledger, *, kinds: Sequence[str] | None = None) -> list[Entry]:
    """What was written since the last handover was signed; all there is when none was."""
    signed = last_handover(ledger)
    return entries(ledger, since_seq=signed.seq if signed else 0, kinds=kinds)


def load_states(ledger: Ledger, day: date, until: date | None = None) -> list[LoadState]:
    """The loads of a planned day (or of the days to `until`), as they stand, in order of loading."""
    sql = f"SELECT * FROM loads l WHERE day BETWEEN ? AND ? AND {LOADS_IN_PLAY} ORDER BY load_at, id"
    return [_load_state(ledger, row) for row in ledger.rows(sql, _days(day, until))]


def batch_states(ledger: Ledger, day: date, until: date | None = None) -> list[BatchState]:
    """The batches of a planned day (or of the days to `until`), as they stand, the first due first."""
    sql = f"SELECT * FROM batches WHERE day BETWEEN ? AND ? AND {BATCHES_IN_PLAY} ORDER BY make_by, id"
    return [_batch_state(row) for row in ledger.rows(sql, _days(day, until))]


def batches_named(ledger: Ledger, name: str) -> list[BatchState]:
    """The batches of that lot or id, of whatever day: those of the lot first, then the latest."""
    sql = f"""SELECT * FROM batches WHERE (lot = ? OR id = ?) AND {BATCHES_IN_PLAY}
        ORDER BY lot IS NOT ?, day DESC, id"""
    return [_batch_state(row) for row in ledger.rows(sql, (name, name, name))]


def kept_batches(ledger: Ledger, before: date, now: datetime) -> list[BatchState]:
    """The batches of days planned before one that are made, not gone and still good, the oldest first."""
    sql = """SELECT * FROM batches WHERE day < ? AND made_at IS NOT NULL AND stage IN ('made', 'ready')
        AND use_by >= ? ORDER BY day, id"""
    return [_batch_state(row) for row in ledger.rows(sql, (day_text(before), stamp(now)))]


def step_states(ledger: Ledger, day: date, until: date | None = None) -> list[StepState]:
    """The steps of a planned day's plan in force (or of the days to `until`), done ones too, by time."""
    sql = "SELECT * FROM steps WHERE day BETWEEN ? AND ? AND NOT dropped ORDER BY at, id"
    return [_step_state(row) for row in ledger.rows(sql, _days(day, until))]


def open_steps(ledger: Ledger, since: datetime, until: datetime) -> list[StepState]:
    """The steps of all plans in force that are not done and start from `since` to `until`, by time."""
    sql = """SELECT * FROM steps WHERE done_seq IS NULL AND NOT dropped AND at >= ? AND at < ?
        ORDER BY at, id"""
    return [_step_state(row) for row in ledger.rows(sql, (stamp(since), stamp(until)))]


def pit_states(ledger: Ledger) -> dict[str, PitState]:
    """Every pit that was ever lit, by its id: lit since when, at what setpoint, last seen at what."""
    sql = "SELECT id, lit_at, setpoint_c FROM pits"
    return {row["id"]: _pit_state(ledger, row) for row in ledger.rows(sql)}


def readings(
    ledger: Ledger,
    *,
    load: str | None = None,
    day: date | None = None,
    place: str | None = None,
    since: datetime | None = None,
    until: datetime | None = None,
    limit: int | None = None,
    silence: Silence | None = None,
) -> list[Reading]:
    """Temperatures in the order they were taken, by hand or by a probe that feeds; none that was struck.

    Args:
        ledger: where to read.
        load: only of this load's core.
        day: the planned day of that load; every day's load of that name when None.
        place: only of this place.
        since: only from this moment on.
        until: only before this moment.
        limit: at most so many, the latest ones.
        silence: what was fed is thinned out, with its extremes and with every gap of this length.
    """
    clauses, values = _conditions(
        ("load = ?", load),
        ("load_day = ?", day_text(day) if day else None),
        ("place = ?", place),
        ("at >= ?", stamp(since) if since else None),
        ("at < ?", stamp(until) if until else None),
    )
    where = " AND ".join(clauses) or "1"
    sql = f"SELECT * FROM readings WHERE {where} ORDER BY at DESC, seq DESC{_limit(limit)}"
    by_hand = [_reading(row) for row in ledger.rows(sql, values)]
    if silence is None:
        fed = fed_readings(ledger, clauses, values, _limit(limit))
    else:
        fed = thinned_readings(ledger, clauses, values, silence)
    found = sorted((*by_hand, *fed), key=lambda one: (one.at, one.seq))
    return found[-limit:] if limit else found


def last_reading(
    ledger: Ledger, *, load: str | None = None, day: date | None = None, place: str | None = None
) -> Reading | None:
    """The latest temperature of a load's core or of a place, read by hand or fed."""
    found = readings(ledger, load=load, day=day, place=place, limit=1)
    return found[0] if found else None


def promises(ledger: Ledger, day: date) -> dict[tuple[str, str], int]:
    """Portions promised on a day by service and item, where somebody changed what the house says."""
    rows = ledger.rows("SELECT service, item, portions FROM promises WHERE day = ?", (day_text(day),))
    return {(row["service"], row["item"]): row["portions"] for row in rows}


def pins(ledger: Ledger, day: date, until: date | None = None) -> list[PinFacts]:
    """The loads of a planned day (or of the days to `until`) that a person pinned to a place, by load."""
    sql = "SELECT * FROM pins WHERE day BETWEEN ? AND ? ORDER BY day, load"
    return [store.as_facts(PinFacts, row) for row in ledger.rows(sql, _days(day, until))]


def occasions(ledger: Ledger, day: date, until: date | None = None) -> list[OccasionFacts]:
    """What was changed of the serving times of a day (or of the days to `until`), by day and id."""
    sql = "SELECT * FROM occasions WHERE day BETWEEN ? AND ? ORDER BY day, service"
    return [store.as_facts(OccasionFacts, row) for row in ledger.rows(sql, _days(day, until))]


def regroups(ledger: Ledger, day: date, until: date | None = None) -> list[RegroupFacts]:
    """Which loads of a day (or of the days to `until`) are to be split or joined, first said first.

    What was said before the plan in force was committed is in that plan, or gone with it.
    """
    sql = """SELECT r.* FROM regroups r WHERE r.day BETWEEN ? AND ?
        AND r.seq > COALESCE((SELECT max(p.seq) FROM plans p WHERE p.day = r.day), 0) ORDER BY r.seq"""
    return [store.as_facts(RegroupFacts, row) for row in ledger.rows(sql, _days(day, until))]


def weighings(ledger: Ledger, day: date, until: date | None = None) -> list[WeighedFacts]:
    """What was weighed for the batches of a planned day (or of the days to `until`), by batch and line."""
    sql = "SELECT * FROM weighings WHERE day BETWEEN ? AND ? ORDER BY day, batch, line"
    return [store.as_facts(WeighedFacts, row) for row in ledger.rows(sql, _days(day, until))]


def uses(ledger: Ledger, day: date, until: date | None = None) -> list[UseFacts]:
    """What the loads of a planned day (or of the days to `until`) took of which batches, by time."""
    sql = "SELECT * FROM uses WHERE day BETWEEN ? AND ? ORDER BY at, day, step, batch"
    return [store.as_facts(UseFacts, row) for row in ledger.rows(sql, _days(day, until))]


def watches(ledger: Ledger, since: datetime | None = None, until: datetime | None = None) -> list[WatchFacts]:
    """The watches that ran at some time of a span, by their start; only those still open without one."""
    if since is None:
        rows = ledger.rows("SELECT * FROM watches WHERE ended_at IS NULL ORDER BY started_at, id")
    else:
        clauses, values = _conditions(
            ("(ended_at IS NULL OR ended_at >= ?)", stamp(since)),
            ("started_at < ?", stamp(until) if until else None),
        )
        where = " AND ".join(clauses)
        rows = ledger.rows(f"SELECT * FROM watches WHERE {where} ORDER BY started_at, id", values)
    return [store.as_facts(WatchFacts, row) for row in rows]


def watch(ledger: Ledger, id: str) -> WatchFacts | None:
    """The watch of that name, running or ended."""
    row = ledger.row("SELECT * FROM watches WHERE id = ?", (id,))
    return store.as_facts(WatchFacts, row) if row else None


def answers(ledger: Ledger, since: datetime) -> dict[str, AlarmFacts]:
    """What was last said to each alarm, where that was since a moment or still holds it off."""
    sql = "SELECT * FROM alarms WHERE at >= ? OR until >= ? ORDER BY seq"
    found = [store.as_facts(AlarmFacts, row) for row in ledger.rows(sql, (stamp(since), stamp(since)))]
    return {one.key: one for one in found}


def uses_of(ledger: Ledger, day: date, batch: str) -> list[UseFacts]:
    """What loads of any day took of one batch of a planned day, by time."""
    sql = "SELECT * FROM uses WHERE batch_day = ? AND batch = ? ORDER BY at, day, step"
    return [store.as_facts(UseFacts, row) for row in ledger.rows(sql, (day_text(day), batch))]


def sold(ledger: Ledger, day: date) -> dict[tuple[str, str], SaleState]:
    """What was sold on a day by service and item, and what ran out."""
    return {(one.service, one.item): one for one in sales(ledger, day, day)}


def entries_of_load(ledger: Ledger, day: date, load: str, steps: Sequence[str]) -> list[Entry]:
    """What was recorded of a load, its readings, its steps, and what was written about it, by time."""
    marks = ", ".join("?" * len(steps)) or "NULL"
    key = f"{day_text(day)}/{load}"
    sql = f"""{record.SELECT} WHERE e.kind NOT IN ('plan', 'sale') AND e.seq IN (
        SELECT seq FROM bearing WHERE family = 'load' AND day = ? AND id = ?
        UNION SELECT seq FROM bearing WHERE family = 'step' AND day = ? AND id IN ({marks})
        UNION SELECT seq FROM readings WHERE load = ? AND load_day = ?
        UNION SELECT seq FROM entries WHERE kind = 'note' AND subject = ?
        UNION SELECT seq FROM entries WHERE kind IN ('action', 'answered', 'put off', 'placed')
            AND json_extract(data, '$.load') = ? AND json_extract(data, '$.day') = ?
        UNION SELECT s.seq FROM struck s WHERE EXISTS (SELECT 1 FROM fed f
            WHERE f.load = ? AND f.load_day = ? AND f.at BETWEEN s.since AND s.until AND f.struck = s.seq)
        UNION SELECT u.seq FROM entries u WHERE u.kind = 'undo' AND u.subject IN (?, ?)
    ) ORDER BY e.at, e.seq"""
    text = day_text(day)
    values = (text, load, text, *steps, load, text, key, load, text, load, text, load, key)
    return [record.as_entry(row) for row in ledger.rows(sql, values)]


def sold_out_entry(ledger: Ledger, day: date, service: str, item: str) -> Entry | None:
    """The entry that says that an item ran out at a service, where one stands."""
    bearing = record.bearing_on(ledger, menu_key("sale", day, service, item))
    return next((one for one in reversed(standing(bearing)) if one.kind == "sold out"), None)


def sales(ledger: Ledger, first: date, last: date) -> list[SaleState]:
    """What was sold on the days from first to last, in order of days."""
    sql = "SELECT * FROM sales WHERE day BETWEEN ? AND ? ORDER BY day, service, item"
    found = [store.as_facts(SaleFacts, r) for r in ledger.rows(sql, (day_text(first), day_text(last)))]
    return [SaleState(one.day, one.service, one.item, one.sold, one.sold_out_at) for one in found]


def _load_state(ledger: Ledger, row: Row) -> LoadState:
    facts = store.as_facts(LoadFacts, row)
    own = {name: getattr(facts, name) for name in LoadState.__dataclass_fields__ if hasattr(facts, name)}
    core = last_reading(ledger, load=facts.id, day=facts.day)
    celsius, at = (core.temperature_c, core.at) if core else (None, None)
    return LoadState(**own, last_core_c=celsius, last_core_at=at)


def _batch_state(row: Row) -> BatchState:
    return _told(BatchState, store.as_facts(BatchFacts, row))


def _step_state(row: Row) -> StepState:
    return _told(StepState, store.as_facts(StepFacts, row))


def _pit_state(ledger: Ledger, row: Row) -> PitState:
    seen = last_reading(ledger, place=row["id"])
    air, at = (seen.temperature_c, seen.at) if seen else (None, None)
    return PitState(row["id"], _moment(row["lit_at"]), row["setpoint_c"], air, at)


def _reading(row: Row) -> Reading:
    return _told(Reading, store.as_facts(ReadingFacts, row))


def _told(kind: type[Told], facts: Facts) -> Told:
    """What is told of a thing, out of what is kept of it."""
    kept = [name for name in kind.__dataclass_fields__ if hasattr(facts, name)]
    return kind(**{name: getattr(facts, name) for name in kept})


def _conditions(*wanted: tuple[str, Any]) -> tuple[list[str], list[Any]]:
    """The conditions that were asked for, with their values."""
    asked = [(clause, value) for clause, value in wanted if value is not None]
    return [clause for clause, _ in asked], [value for _, value in asked]


def _days(day: date, until: date | None) -> tuple[str, str]:
    return day_text(day), day_text(until or day)


def _limit(limit: int | None) -> str:
    return "" if limit is None else f" LIMIT {int(limit)}"


def _moment(text: str | None) -> datetime | None:
    return moment(text) if text else None
