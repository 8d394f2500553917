"""Looking through all the record for what people wrote, and for loads and batches of long ago."""

import json
from collections.abc import Mapping, Sequence
from datetime import date

from board.house.searching import has_all, words_of
from board.ledger import record
from board.ledger.faults import told_plainly
from board.ledger.open import Ledger, Row
from board.ledger.state import Entry
from board.ledger.times import day_text

# what a person typed, by the kind of entry: readings and marks, by far the most, carry no words
_TYPED: Mapping[str, tuple[str, ...]] = {
    "note": ("text",),
    "handover": ("text",),
    "correction": ("text", "why"),
    "action": ("text",),
    "answered": ("why",),
    "plan": ("reason",),
    "batch": ("reason", "lot"),
    "watch": ("what", "amount"),
    "order": ("name",),
    "struck": ("why",),
    "probe": (),
}
_OFTEN_MARKED = str.maketrans(dict.fromkeys("aceinosuyz", "_"))  # ä, ç, é, ñ: any letter may stand there

# what SQLite is asked for; whatever else was typed is looked for in what it finds
_MOST_WORDS, _MOST_LETTERS = 8, 80


def entries_with(ledger: Ledger, typed: str, *, limit: int) -> list[Entry]:
    """The newest entries in which a person wrote words that begin as typed; those taken back are marked."""
    wanted = words_of(typed)
    sought = [word[:_MOST_LETTERS] for word in wanted[:_MOST_WORDS]]
    like = " AND ".join("(data LIKE ? OR subject LIKE ?)" for _ in sought) or "1"
    marks = ", ".join("?" * len(_TYPED))
    sql = f"SELECT seq, kind, subject, data FROM entries WHERE kind IN ({marks}) AND {like} ORDER BY seq DESC"
    patterns = [pattern for word in sought for pattern in [f"%{word.translate(_OFTEN_MARKED)}%"] * 2]
    found: list[int] = []
    with told_plainly(ledger.path):
        for seq, kind, subject, data in ledger.db.execute(sql, (*_TYPED, *patterns)):
            if has_all(wanted, words_of(_text(kind, subject, data))):
                found.append(seq)
            if len(found) == limit:
                break
    return [entry for seq in found if (entry := record.find(ledger, seq)) is not None]


def _text(kind: str, subject: str, data: str) -> str:
    said = json.loads(data)
    return " ".join(filter(None, (subject, *(said.get(key) for key in _TYPED[kind]))))


def loads_before(ledger: Ledger, day: date, cuts: Sequence[str]) -> list[Row]:
    """The loads of some cuts that went on for days before one, the newest first."""
    marks = ", ".join("?" * len(cuts))
    sql = f"""SELECT day, id, cut, pieces, pit FROM loads WHERE day < ? AND cut IN ({marks})
        AND on_at IS NOT NULL ORDER BY day DESC, load_at DESC"""
    return ledger.rows(sql, (day_text(day), *cuts))


def batches_before(ledger: Ledger, day: date, recipes: Sequence[str]) -> list[Row]:
    """The batches of some recipes made for days before one, the newest first."""
    marks = ", ".join("?" * len(recipes))
    sql = f"""SELECT day, id, recipe, lot FROM batches WHERE day < ? AND recipe IN ({marks})
        AND made_at IS NOT NULL ORDER BY day DESC, make_by DESC"""
    return ledger.rows(sql, (day_text(day), *recipes))


def mark_of(ledger: Ledger, family: str, day: date, id: str) -> int | None:
    """The entry by which a `load` went on or a `batch` was made, or else the first that names it."""
    row = ledger.row(
        """SELECT e.seq FROM bearing b JOIN entries e ON e.seq = b.seq
        WHERE b.family = ? AND b.day = ? AND b.id = ?
        ORDER BY json_extract(e.data, '$.stage') IN ('on', 'made') DESC, e.seq LIMIT 1""",
        (family, day_text(day), id),
    )
    return int(row["seq"]) if row else None


def last_of(ledger: Ledger, who: str) -> Entry | None:
    """The last entry of a person."""
    row = ledger.row(f"{record.SELECT} WHERE e.who = ? ORDER BY e.seq DESC LIMIT 1", (who,))
    return record.as_entry(row) if row else None
