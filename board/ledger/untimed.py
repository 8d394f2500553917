"""Which loads' marks were written by clocks that did not agree, so that nobody knows how long they took.

A load's own marks and cores tell, where they are of one boot: how long it took is known where the clock was
not set between them. Where the machine started again meanwhile, the entries beside them tell.
"""

from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby, pairwise

from board.ledger import chain, record
from board.ledger.clocks import APART, Noted, set_by
from board.ledger.doubtful import BESIDE, clocks_beside, put_right, said_right
from board.ledger.open import Ledger
from board.ledger.times import moment

_MARKED = f"""SELECT b.day, b.id, e.seq, e.noted_at, l.boot, l.up_ms
    FROM bearing b JOIN entries e ON e.seq = b.seq JOIN links l ON l.seq = e.seq
    WHERE b.family = 'load' AND b.day >= :since AND e.kind IN ('load', 'step', 'move')
    AND l.boot <> '' AND {record.STANDS}"""
_READ = """SELECT r.load_day, r.load, e.seq, e.noted_at, l.boot, l.up_ms
    FROM readings r JOIN entries e ON e.seq = r.seq JOIN links l ON l.seq = e.seq
    WHERE r.load IS NOT NULL AND r.load_day >= :since AND l.boot <> ''"""
_SUSPECT = f"""WITH own (day, id, seq, noted_at, boot, up_ms) AS ({_MARKED} UNION ALL {_READ}),
    set_at (day, id, boot, ms) AS (
        SELECT day, id, boot, julianday(noted_at) * 86400000.0 - up_ms FROM own),
    suspect (day, id) AS (SELECT day, id FROM set_at GROUP BY day, id
        HAVING min(boot) <> max(boot) OR max(ms) - min(ms) > :apart)
    SELECT own.* FROM own JOIN suspect USING (day, id) ORDER BY own.day, own.id, own.seq"""
REMEMBERED = 512

Load = tuple[str, str]


def untimed(ledger: Ledger, since: str) -> frozenset[Load]:
    """The loads of planned days from `since` whose times are doubtful, by day and id."""
    right, told, last = put_right(ledger), said_right(ledger), record.last_seq(ledger)
    return frozenset(
        load
        for load, own in _own(ledger, since)
        if _is_untimed(ledger, tuple(one for one in own if one.seq not in right), told, last)
    )


def _own(ledger: Ledger, since: str) -> Iterator[tuple[Load, list[Noted]]]:
    """Each load that may be one, with its own marks and cores in the order they were written."""
    rows = ledger.rows(_SUSPECT, {"since": since, "apart": APART.total_seconds() * 1_000})
    for load, own in groupby(rows, key=lambda row: (row["day"], row["id"])):
        yield load, [Noted(row["seq"], moment(row["noted_at"]), row["boot"], row["up_ms"]) for row in own]


def _is_untimed(ledger: Ledger, own: tuple[Noted, ...], told: frozenset[int], last: int) -> bool:
    if any(a.boot == b.boot and set_by(a, b) for a, b in pairwise(own)):
        return True
    if len({one.boot for one in own}) < 2:
        return False
    numbers = tuple(one.seq for one in own)
    return _is_doubted(ledger, numbers, told, chain.link_at(ledger, min(last, numbers[-1] + BESIDE)))


@lru_cache(maxsize=REMEMBERED)
def _is_doubted(ledger: Ledger, numbers: tuple[int, ...], _told: frozenset[int], _last: str) -> bool:
    """Whether one of some entries is doubtful; asked again while there is more beside them to tell it."""
    found = clocks_beside(ledger, numbers[0], numbers[-1])
    return any(found.doubt(seq) for seq in numbers)
