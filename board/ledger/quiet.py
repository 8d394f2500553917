"""Whether a ledger's entries show nothing of a wrong clock: one question, cheap enough for each screen.

Nothing is wrong where time goes on from each entry to the next, and within a boot as much as its count does.
Where an entry has no count beside one that has, it is not asked so cheaply.
"""

from typing import NamedTuple
from weakref import WeakKeyDictionary

from board.ledger.clocks import APART
from board.ledger.open import Ledger

_APART_MS = APART.total_seconds() * 1_000
_TROUBLED = """SELECT 1 FROM (
    SELECT l.boot, b.boot AS boot_before, l.up_ms - b.up_ms AS counted,
        86400000.0 * (julianday(e.noted_at) - julianday(f.noted_at)) AS passed
    FROM entries e JOIN links l ON l.seq = e.seq
    LEFT JOIN entries f ON f.seq = e.seq - 1 LEFT JOIN links b ON b.seq = e.seq - 1
    WHERE e.seq > :since AND e.seq <= :until AND l.up_ms IS NOT NULL)
    WHERE CASE WHEN counted IS NULL THEN 1
        WHEN boot <> '' AND boot = boot_before THEN abs(passed - counted) > :apart
        ELSE passed < -:apart END LIMIT 1"""
_LAST = "SELECT seq, sha256 FROM links ORDER BY seq DESC LIMIT 1"


class _Quiet(NamedTuple):
    """From which entry to which nothing was wrong, and the last one's link."""

    since: int
    seq: int
    sha256: str


_QUIET: WeakKeyDictionary[Ledger, _Quiet] = WeakKeyDictionary()


def was_quiet(ledger: Ledger, since: int, until: int) -> bool:
    """Whether the entries from one to another show no clock that was wrong."""
    return not ledger.rows(_TROUBLED, {"since": since, "until": until, "apart": _APART_MS})


def is_quiet(ledger: Ledger, since: int) -> bool:
    """Whether the entries from one on show no clock that was wrong; each is looked at once."""
    last = ledger.row(_LAST)
    if last is None:
        return True
    known = _known(ledger) or _Quiet(last["seq"], last["seq"], last["sha256"])
    first = min(since, known.since)
    if not was_quiet(ledger, first, known.since) or not was_quiet(ledger, known.seq, last["seq"]):
        return False
    _QUIET[ledger] = _Quiet(first, last["seq"], last["sha256"])
    return True


def _known(ledger: Ledger) -> _Quiet | None:
    """What was looked at before, where the record still has it."""
    known = _QUIET.get(ledger)
    if known is None:
        return None
    row = ledger.row("SELECT sha256 FROM links WHERE seq = ?", (known.seq,))
    return known if row is not None and row["sha256"] == known.sha256 else None
