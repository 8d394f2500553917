"""Whether a ledger's last entries show nothing of a wrong clock: one question, cheap enough for each screen.

Nothing is wrong where time goes on from each entry to the next, and within a boot as much as its count does.
"""

from weakref import WeakKeyDictionary

from board.ledger.clocks import APART
from board.ledger.open import Ledger

_APART_MS = APART.total_seconds() * 1_000
_TROUBLED = """WITH counted AS (
    SELECT e.seq, l.boot, l.up_ms, julianday(e.noted_at) * 86400000.0 AS ms
    FROM entries e JOIN links l ON l.seq = e.seq WHERE e.seq >= :since AND l.up_ms IS NOT NULL),
    beside AS (SELECT boot, ms - lag(ms) OVER inturn AS passed, up_ms - lag(up_ms) OVER inturn AS counted,
        lag(boot) OVER inturn AS boot_before FROM counted WINDOW inturn AS (ORDER BY seq))
    SELECT 1 FROM beside WHERE CASE WHEN boot <> '' AND boot = boot_before
        THEN abs(passed - counted) > :apart ELSE passed < -:apart END LIMIT 1"""
_LAST = "SELECT seq, sha256 FROM links WHERE up_ms IS NOT NULL ORDER BY seq DESC LIMIT 1"

_QUIET: WeakKeyDictionary[Ledger, tuple[int, str]] = WeakKeyDictionary()


def is_quiet(ledger: Ledger, back: int) -> bool:
    """Whether so many of the last entries, and all since this was first asked, show no wrong clock."""
    last = ledger.row(_LAST)
    if last is None:
        return True
    since = _known(ledger) or max(1, last["seq"] - back)
    if ledger.rows(_TROUBLED, {"since": since, "apart": _APART_MS}):
        return False
    _QUIET[ledger] = (last["seq"], last["sha256"])
    return True


def _known(ledger: Ledger) -> int | None:
    """The last entry up to which nothing was wrong, where the record still has it."""
    seq, sha256 = _QUIET.get(ledger, (0, ""))
    row = ledger.row("SELECT sha256 FROM links WHERE seq = ?", (seq,))
    return seq if row is not None and row["sha256"] == sha256 else None
