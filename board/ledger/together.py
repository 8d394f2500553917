"""Entries that one act wrote together: they are taken back, or their time is put right, as one."""

from board.ledger import record
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.ledger.timing import TIMED

FIRST = "with"  # of entries that one act wrote: the number of the first of them


def entered_together(ledger: Ledger, entry: Entry) -> list[Entry]:
    """The entries that were entered together with one and stand, in order; else that entry alone."""
    first = entry.data.get(FIRST, entry.seq)
    rows = ledger.rows(
        f"""{record.SELECT} WHERE e.seq BETWEEN ? AND ?
        AND (e.seq = ? OR json_extract(e.data, '$.{FIRST}') = ?) AND {record.STANDS} ORDER BY e.seq""",
        (first, entry.seq, first, first),
    )
    return [record.as_entry(row) for row in rows] or [entry]


def last_timed(ledger: Ledger, who: str) -> list[Entry]:
    """This person's last act whose time may be put right, as the entries that it wrote."""
    kinds = ", ".join("?" * len(TIMED))
    row = ledger.row(
        f"""{record.SELECT} WHERE e.who = ? AND +e.kind IN ({kinds})
        AND {record.STANDS} ORDER BY e.seq DESC LIMIT 1""",
        (who, *TIMED),
    )
    if row is None:
        return []
    last = record.as_entry(row)
    together = entered_together(ledger, last)
    if together[1:]:
        return together
    before = record.find(ledger, last.seq - 1)
    return [before, last] if before is not None and _led_to(before, last) else [last]


def _led_to(before: Entry, watch: Entry) -> bool:
    """Whether a watch was begun by the step, or by the end of the watch, that was marked just before it."""
    if watch.kind != "watch" or before.undone or (before.who, before.at) != (watch.who, watch.at):
        return False
    by_step = before.kind == "step" and before.data.get("load") == watch.data.get("load", "")
    return by_step or (before.kind == "watch ended" and before.subject == watch.data.get("from_watch"))
