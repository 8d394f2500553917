"""The record itself: entries written once, read back whole, never changed."""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from board.ledger import chain
from board.ledger.keys import Key
from board.ledger.links import Stored
from board.ledger.open import Ledger, Row
from board.ledger.state import Entry
from board.ledger.times import moment, stamp
from board.ledger.typed import Said

# An entry with the mark of whether a later one took it back.
SELECT = """SELECT e.seq, e.at, e.noted_at, e.who, e.kind, e.subject, e.data, e.undoes,
    EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.seq) AS undone FROM entries e"""
STANDS = "NOT EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.seq)"  # of entries e that nobody took back


def canonical(data: Mapping[str, Any]) -> str:
    """The one JSON text of some data: sorted keys, no spare space, no number that is not one."""
    return json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def last_seq(ledger: Ledger) -> int:
    """The last entry's number; 0 where there is none."""
    return int(ledger.rows("SELECT coalesce(max(seq), 0) AS seq FROM entries")[0]["seq"])


def link_of_last(ledger: Ledger, kinds: Iterable[str]) -> str:
    """The link of the last entry of some kinds; "" where there is none.

    Another record has another, also where it has entries of the same numbers, as after a restore.
    """
    sql = "SELECT coalesce(max(seq), 0) AS seq FROM entries WHERE kind = ?"
    return chain.link_at(ledger, max(int(ledger.rows(sql, (kind,))[0]["seq"]) for kind in kinds))


def write(
    ledger: Ledger,
    said: Said,
    kind: str,
    subject: str,
    data: Mapping[str, Any],
    *,
    undoes: int | None = None,
) -> Entry:
    """Add one entry and its link at the end of the record, inside the caller's transaction.

    One of a bundle names the first of it as `with`.
    """
    bundle = ledger.bundle
    if bundle is not None and bundle.first is not None:
        data = {**data, "with": bundle.first}
    values = (
        stamp(said.at),
        stamp(said.noted_at),
        said.who,
        kind,
        subject,
        canonical(data),
        undoes,
    )
    sql = "INSERT INTO entries (at, noted_at, who, kind, subject, data, undoes) VALUES (?, ?, ?, ?, ?, ?, ?)"
    seq = ledger.db.execute(sql, values).lastrowid
    assert seq is not None
    chain.add(ledger, Stored(seq, *values))
    if bundle is not None and bundle.first is None:
        bundle.first = seq
    at, noted_at = moment(values[0]), moment(values[1])
    return Entry(seq, at, noted_at, said.who, kind, subject, json.loads(values[5]), undoes)


def find(ledger: Ledger, seq: int) -> Entry | None:
    """The entry of that number, if there is one."""
    row = ledger.row(f"{SELECT} WHERE e.seq = ?", (seq,))
    return as_entry(row) if row else None


def bearing_on(ledger: Ledger, key: Key) -> list[Entry]:
    """All entries that bear on one thing, in the order of the record, undone and undoing ones too."""
    where = "JOIN bearing b ON b.seq = e.seq WHERE b.family = ? AND b.day = ? AND b.id = ? ORDER BY b.seq"
    return [as_entry(row) for row in ledger.rows(f"{SELECT} {where}", key)]


def corrections_of(ledger: Ledger, seq: int) -> list[Entry]:
    """The corrections of one entry that nobody took back, in the order of the record."""
    rows = ledger.rows(
        f"""{SELECT} WHERE e.kind = 'correction' AND json_extract(e.data, '$.entry') = ?
        AND {STANDS} ORDER BY e.seq""",
        (seq,),
    )
    return [as_entry(row) for row in rows]


def as_entry(row: Row) -> Entry:
    """The entry that a row of `SELECT` holds."""
    return Entry(
        seq=row["seq"],
        at=moment(row["at"]),
        noted_at=moment(row["noted_at"]),
        who=row["who"],
        kind=row["kind"],
        subject=row["subject"],
        data=json.loads(row["data"]),
        undoes=row["undoes"],
        undone=bool(row["undone"]),
    )
