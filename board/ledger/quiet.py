"""Whether a ledger's entries show nothing of a wrong clock: one question, cheap enough for each screen.

Nothing is wrong where time goes on from each entry to the next, and within a boot as much as its count does.
Where an entry has no count beside one that has, it is not asked so cheaply.
"""

from typing import NamedTuple
from weakref import WeakKeyDictionary

from board.ledger import chain
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
    last = chain.head(ledger)
    if not last.seq:
        return True
    known = _known(ledger) or _Quiet(last.seq, *last)
    first = min(since, known.since)
    if not was_quiet(ledger, first, known.since) or not was_quiet(ledger, known.seq, last.seq):
        return False
    _QUIET[ledger] = _Quiet(first, *last)
    return True


def _known(ledger: Ledger) -> _Quiet | None:
    """What was looked at before, where the record still has it."""
    known = _QUIET.get(ledger)
    return known if known and chain.link_at(ledger, known.seq) == known.sha256 else None
