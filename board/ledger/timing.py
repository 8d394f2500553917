"""When a thing truly happened: whose time may be put right, and what that time must not contradict."""

from collections.abc import Callable, Mapping
from datetime import datetime

from board.errors import LedgerError
from board.ledger import record, store
from board.ledger.facts import BatchFacts, LoadFacts, WatchFacts
from board.ledger.fold import righted
from board.ledger.keys import Key, batch_key, load_key, pit_key, watch_key
from board.ledger.open import Ledger
from board.ledger.stages import BATCH_ORDER, LOAD_ORDER, check_moved, check_new, check_since_moved
from board.ledger.state import BatchStage, Entry, LoadStage
from board.ledger.times import moment, stamp

# a reading's own correction has its degrees too; a plan, a promise and a pin have no time that counts
TIMED = (
    "load",
    "step",
    "batch",
    "weighed",
    "light",
    "out",
    "move",
    "reading",
    "note",
    "sale",
    "sold out",
    "watch",
    "watch ended",
    "placed",
)


def counted_at(ledger: Ledger, entry: Entry, *, without: Entry | None = None) -> datetime:
    """When an entry counts as having happened: as it was last put right, `without` one of its corrections."""
    times = [
        e.data["at"] for e in record.corrections_of(ledger, entry.seq) if "at" in e.data and e != without
    ]
    return moment(times[-1]) if times else entry.at


def check_time(ledger: Ledger, entry: Entry, at: datetime) -> None:
    """Check that an entry may have happened at another time, given all else in the record.

    Raises:
        LedgerError: what it would come before or after, and when that was.
    """
    check = _CHECKS.get(entry.kind)
    if check:
        check(ledger, entry, at)


def check_taken_back(ledger: Ledger, correction: Entry) -> None:
    """Check that an entry may count again as it did before a correction of it.

    Raises:
        LedgerError: what it would come before or after by now, and when that was.
    """
    entry = record.find(ledger, correction.data["entry"])
    if entry is None or entry.undone:
        return
    before = counted_at(ledger, entry, without=correction)
    if before != counted_at(ledger, entry):
        check_time(ledger, entry, before)


def _load(ledger: Ledger, entry: Entry, at: datetime) -> None:
    load = store.stored(ledger, load_key(entry.data["day"], entry.data.get("load", entry.subject)))
    stage = entry.data.get("stage")
    if stage is None or not isinstance(load, LoadFacts):
        return
    others = {other: other_at for other, other_at in load.times.items() if other != stage}
    check_new(load.id, stage, at, others, order=LOAD_ORDER, clock=ledger.clock)
    check_since_moved(load.id, stage, at, load.moved_at, clock=ledger.clock)
    if stage == LoadStage.PULLED:
        _before_sales(ledger, load, at)


def _before_sales(ledger: Ledger, load: LoadFacts, at: datetime) -> None:
    """What was sold of a load was sold after it came off."""
    sold = [e for e in _standing(ledger, load_key(load.day, load.id)) if e.kind == "sale"]
    if sold and (first := min(e.at for e in sold)) < at:
        raise LedgerError(f"{load.id} was sold from at {ledger.clock(first)}; it was pulled before that")


def _step(ledger: Ledger, entry: Entry, at: datetime) -> None:
    _load(ledger, entry, at)
    for one in entry.data.get("took", ()):
        batch = store.stored(ledger, batch_key(one["day"], one["batch"]))
        if isinstance(batch, BatchFacts) and batch.made_at is not None and at < batch.made_at:
            made = ledger.clock(batch.made_at)
            raise LedgerError(f"{batch.id} was made at {made}; it is not used before that")


def _move(ledger: Ledger, entry: Entry, at: datetime) -> None:
    key = load_key(entry.data["day"], entry.subject)
    load = store.stored(ledger, key)
    if not isinstance(load, LoadFacts):
        return
    moves = [e for e in _standing(ledger, key) if e.kind == "move"]
    before = [e.at for e in moves if e.seq < entry.seq]
    after = [e.at for e in moves if e.seq > entry.seq]
    check_moved(load.id, at, load.times, before[-1] if before else None, clock=ledger.clock)
    if after and at > after[0]:
        raise LedgerError(f"{load.id} was moved on at {ledger.clock(after[0])}; this came before that")


def _batch(ledger: Ledger, entry: Entry, at: datetime) -> None:
    batch = store.stored(ledger, batch_key(entry.data["day"], entry.subject))
    if not isinstance(batch, BatchFacts):
        return
    stage = entry.data["stage"]
    others = {other: other_at for other, other_at in batch.times.items() if other != stage}
    check_new(batch.id, stage, at, others, order=BATCH_ORDER, clock=ledger.clock)
    if stage != BatchStage.MADE:
        return
    row = ledger.row(
        "SELECT load, at FROM uses WHERE batch_day = ? AND batch = ? AND at < ? ORDER BY at LIMIT 1",
        (entry.data["day"], batch.id, stamp(at)),
    )
    if row:
        used = ledger.clock(moment(row["at"]))
        raise LedgerError(f"{batch.id} was used on {row['load']} at {used}; it was made before that")
    row = ledger.row(
        "SELECT max(at) AS at FROM weighings WHERE day = ? AND batch = ?", (entry.data["day"], batch.id)
    )
    if row and row["at"] and moment(row["at"]) > at:
        weighed = ledger.clock(moment(row["at"]))
        raise LedgerError(f"{batch.id} was weighed until {weighed}; it was made after that")


def _weighed(ledger: Ledger, entry: Entry, at: datetime) -> None:
    batch = store.stored(ledger, batch_key(entry.data["day"], entry.subject))
    if isinstance(batch, BatchFacts) and batch.times:
        stage, made_at = next(iter(batch.times.items()))
        if at > made_at:
            raise LedgerError(
                f"{batch.id} was {stage} at {ledger.clock(made_at)}; it was weighed before that"
            )


def _pit(ledger: Ledger, entry: Entry, at: datetime) -> None:
    """A fire keeps its place among what was done to it."""
    fires = _standing(ledger, pit_key(entry.subject))
    own = next(e.at for e in fires if e.seq == entry.seq)
    before = [e.at for e in fires if e.seq < entry.seq and e.at <= own]
    after = [e.at for e in fires if e.seq > entry.seq and e.at >= own]
    if before and at < max(before):
        last = ledger.clock(max(before))
        raise LedgerError(f"{entry.subject} was lit, set or put out at {last}; this came after that")
    if after and at > min(after):
        first = ledger.clock(min(after))
        raise LedgerError(f"{entry.subject} was lit, set or put out at {first}; this came before that")


def _sale(ledger: Ledger, entry: Entry, at: datetime) -> None:
    for part in entry.data.get("from", ()):
        load = store.stored(ledger, load_key(part["day"], part["load"]))
        if isinstance(load, LoadFacts) and load.pulled_at is not None and at < load.pulled_at:
            off = ledger.clock(load.pulled_at)
            raise LedgerError(f"{load.id} came off at {off}; nothing of it was sold before that")


def _watch(ledger: Ledger, entry: Entry, at: datetime) -> None:
    watch = store.stored(ledger, watch_key(entry.subject))
    if not isinstance(watch, WatchFacts):
        return
    if entry.kind == "watch ended" and at < watch.started_at:
        raise LedgerError(f"{watch.id} began at {ledger.clock(watch.started_at)}; nothing ends before that")
    if entry.kind == "watch" and watch.ended_at is not None and at > watch.ended_at:
        raise LedgerError(f"{watch.id} ended at {ledger.clock(watch.ended_at)}; it began before that")


def _standing(ledger: Ledger, key: Key) -> list[Entry]:
    return righted(record.bearing_on(ledger, key))


_CHECKS: Mapping[str, Callable[[Ledger, Entry, datetime], None]] = {
    "batch": _batch,
    "light": _pit,
    "load": _load,
    "move": _move,
    "out": _pit,
    "sale": _sale,
    "step": _step,
    "watch": _watch,
    "watch ended": _watch,
    "weighed": _weighed,
}
