"""Taking an entry back: by a new entry that says so, never by changing the old one."""

from datetime import datetime

from board.errors import LedgerError
from board.ledger import record, store, typed
from board.ledger.append import append
from board.ledger.facts import BatchFacts, LoadFacts
from board.ledger.fold import righted
from board.ledger.keys import Key, borne_on
from board.ledger.open import Ledger
from board.ledger.signers import Vouched, vouched_for
from board.ledger.stages import check_left
from board.ledger.state import Entry
from board.ledger.times import stamp
from board.ledger.timing import check_taken_back
from board.ledger.together import entered_together

UNDOABLE = (
    "load",
    "step",
    "batch",
    "weighed",
    "light",
    "out",
    "move",
    "reading",
    "note",
    "handover",
    "promise",
    "pin",
    "unpin",
    "order",
    "due",
    "strike",
    "split",
    "join",
    "sale",
    "sold out",
    "watch",
    "watch ended",
    "frozen",
    "thawed",
    "correction",
    "action",
    "probe",
    "signature",
    "answered",
    "put off",
    "placed",
    "struck",
    "clock",
)


def undo(
    ledger: Ledger,
    seq: int | None = None,
    *,
    vouched: Vouched | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Take back an entry, or the last one of this person's that can be taken back.

    The returned entry's data tell what was taken back: its kind, time, person and data. An undo is
    not undone: mark the thing again. A plan is not undone: commit another.

    Args:
        ledger: where it is recorded.
        seq: the number of the entry to take back; None for `who`'s last.
        vouched: that they showed their PIN, where what is taken back was signed with one.
        who: takes it back.
        at: when.
        noted_at: now.

    Raises:
        LedgerError: nothing to take back, or something that cannot be before something else is.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        taken_back = _find(ledger, seq, said.who)
        if "pin" in taken_back.data and vouched is None:
            raise LedgerError(f"entry {taken_back.seq} was signed with a PIN; taking it back asks for yours")
        if taken_back.kind == "correction":
            check_taken_back(ledger, taken_back)
        data = {
            "kind": taken_back.kind,
            "at": stamp(taken_back.at),
            "who": taken_back.who,
            "data": taken_back.data,
            **vouched_for(said.who, vouched),
        }
        entry = append(ledger, said, "undo", taken_back.subject, data, undoes=taken_back.seq)
        _check_what_is_left(ledger, entry)
        return entry


def undo_together(
    ledger: Ledger, *, vouched: Vouched | None = None, who: str, at: datetime, noted_at: datetime
) -> list[Entry]:
    """Take back this person's last entry, and with it what was entered together with it, the last first.

    Raises:
        LedgerError: as `undo`; then nothing is taken back.
    """
    with ledger.writing():
        last = last_undoable(ledger, who)
        if last is None:
            return [undo(ledger, vouched=vouched, who=who, at=at, noted_at=noted_at)]
        together = reversed(entered_together(ledger, last))
        return [undo(ledger, one.seq, vouched=vouched, who=who, at=at, noted_at=noted_at) for one in together]


def last_undoable(ledger: Ledger, who: str) -> Entry | None:
    """What `undo` without a number would take back for this person."""
    kinds = ", ".join("?" * len(UNDOABLE))
    row = ledger.row(
        f"""{record.SELECT} WHERE e.who = ? AND +e.kind IN ({kinds})
        AND {record.STANDS} ORDER BY e.seq DESC LIMIT 1""",
        (who, *UNDOABLE),
    )
    return record.as_entry(row) if row else None


def plan_since(ledger: Ledger, who: str) -> int:
    """The entry of a plan this person committed since what `undo` would take back; 0 for none."""
    last = last_undoable(ledger, who)
    row = ledger.row(
        "SELECT max(seq) AS seq FROM entries WHERE who = ? AND kind = 'plan' AND seq > ?",
        (who, last.seq if last else 0),
    )
    return int(row["seq"]) if last and row and row["seq"] else 0


def _find(ledger: Ledger, seq: int | None, who: str) -> Entry:
    found = record.find(ledger, seq) if seq is not None else last_undoable(ledger, who)
    if found is None:
        missing = f"no entry {seq}" if seq is not None else f"nothing of {who}'s to undo"
        raise LedgerError(f"there is {missing}; see the record for what was entered and by whom")
    if found.kind == "undo":
        raise LedgerError(f"entry {found.seq} took something back already; mark the thing again instead")
    if found.kind == "plan":
        raise LedgerError("a committed plan is not undone; commit another one in its place")
    if found.kind not in UNDOABLE:
        raise LedgerError(f"entry {found.seq}, {found.kind}, is not taken back: it was done for good")
    if found.undone:
        raise LedgerError(f"entry {found.seq} was taken back before; nothing is left to undo")
    return found


def _check_what_is_left(ledger: Ledger, entry: Entry) -> None:
    for key in borne_on(entry):
        facts = store.stored(ledger, key)
        if key.family == "watch":
            _check_watch(ledger, key)
        if isinstance(facts, LoadFacts):
            check_left(key.id, facts.times, facts.moved_at)
        elif isinstance(facts, BatchFacts):
            check_left(key.id, facts.times)
            if facts.made_at is None:
                _check_unused(ledger, facts)


def _check_unused(ledger: Ledger, batch: BatchFacts) -> None:
    row = ledger.row(
        "SELECT load FROM uses WHERE batch_day = ? AND batch = ?", (batch.day.isoformat(), batch.id)
    )
    if row:
        raise LedgerError(f"{batch.id} was used on {row['load']} after it was made; undo that first")


def _check_watch(ledger: Ledger, key: Key) -> None:
    """What is left of a watch begins with its start, and goes in and out of the freezer in turn."""
    kinds = [entry.kind for entry in righted(record.bearing_on(ledger, key))]
    if kinds and kinds[0] != "watch":
        raise LedgerError(f"{key.id} was {kinds[-1].removeprefix('watch ')} after it began; undo that first")
    freezing = [kind for kind in kinds if kind in ("frozen", "thawed")]
    if any(kind != ("frozen", "thawed")[n % 2] for n, kind in enumerate(freezing)):
        raise LedgerError(f"{key.id} was {freezing[-1]} after that; undo it first")
