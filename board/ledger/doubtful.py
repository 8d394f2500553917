"""Which entries of a ledger have doubtful times, and whether this machine's clock agrees with its entries."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from weakref import WeakKeyDictionary

from board.ledger import chain, record
from board.ledger.clocks import APART, Clocks, Doubt, Following, Noted, clocks_of
from board.ledger.open import Ledger
from board.ledger.quiet import is_quiet, was_quiet
from board.ledger.state import Entry
from board.ledger.times import moment, stamp

LOOKED_BACK = 10_000  # entries before those asked about, and after, as evidence: weeks of a busy house
_NEAR = 1_000  # entries back that a clock is held against
BESIDE = 500  # entries before a cook and after it: a day or so
SAID_RIGHT = f"SELECT e.seq FROM entries e WHERE e.kind = 'clock' AND {record.STANDS}"
_NO_END = (1 << 63) - 1  # the largest number an entry can have


@dataclass(frozen=True, slots=True)
class Disagrees:
    """This machine's clock shows what its entries cannot have been followed by.

    `expected` is the time by them; where the clock was not seen to be set (`is_set` false), the least it can
    be. `seq` is the last entry.
    """

    shows: datetime
    expected: datetime
    seq: int
    is_set: bool

    @property
    def ahead(self) -> timedelta:
        """How far the clock is ahead; behind where below zero."""
        return self.shows - self.expected


@dataclass(slots=True)
class _Followed:
    """What was taken in of one ledger so far: from which entry to which, with that one's link."""

    since: int
    following: Following = field(default_factory=Following)
    seq: int = 0
    sha256: str = ""
    told: frozenset[int] = frozenset()
    clocks: Clocks = field(default_factory=Clocks)


_FOLLOWED: WeakKeyDictionary[Ledger, _Followed] = WeakKeyDictionary()


def clocks(ledger: Ledger, since_seq: int | None = None, back: int = LOOKED_BACK) -> Clocks:
    """What the entries from `since_seq` on (the last one where None), and so many before, show of clocks."""
    last = since_seq if since_seq is not None else record.last_seq(ledger)
    since = max(1, last - back)
    told = said_right(ledger)
    known = _FOLLOWED.get(ledger)
    if known is None or since < known.since or not _goes_on(ledger, known, told):
        known = _FOLLOWED[ledger] = _Followed(since)
    new = list(_rows(ledger, max(known.since, known.seq + 1)))
    for noted, sha256 in new:
        known.following.take(noted, told=noted.seq in told)
        known.seq, known.sha256 = noted.seq, sha256
    if new:
        known.clocks = known.following.clocks()
    known.told = told
    return known.clocks


def doubtful(ledger: Ledger, entries: Iterable[Entry]) -> dict[int, Doubt]:
    """Those of some entries whose times are doubtful, by number; what somebody put right is not."""
    asked = sorted(entry.seq for entry in entries)
    if not asked:
        return {}
    found = _doubts_around(ledger, asked[0], asked[-1])
    if not found.doubts:
        return {}
    right = put_right(ledger)
    return {
        seq: doubt
        for doubt in found.doubts
        for first, last in doubt.spans
        for seq in asked[bisect_left(asked, first) : bisect_right(asked, last)]
        if seq not in right
    }


def doubts_between(ledger: Ledger, since: datetime, until: datetime) -> tuple[Doubt, ...]:
    """The wrong clocks that wrote near what happened in a span."""
    return clocks_between(ledger, since, until).doubts


def clocks_between(ledger: Ledger, since: datetime, until: datetime) -> Clocks:
    """What the entries near what happened in a span show of clocks that were wrong."""
    ends = ledger.row(
        "SELECT min(seq) AS first, max(seq) AS last FROM entries WHERE at >= ? AND at < ?",
        (stamp(since), stamp(until)),
    )
    if ends is None or ends["first"] is None:
        return Clocks()
    return _doubts_around(ledger, ends["first"], ends["last"])


def clocks_lately(ledger: Ledger) -> Clocks:
    """What the last entries show of clocks that were wrong; nothing of those that were right throughout."""
    last = record.last_seq(ledger)
    return _doubts_around(ledger, last, last)


def fed_by(ledger: Ledger, doubts: Iterable[Doubt], probe: str, since: datetime, until: datetime) -> int:
    """How many readings of a span a probe fed while one of some clocks was wrong."""
    sql = """SELECT count(*) AS n FROM fed
        WHERE probe = ? AND at >= ? AND at < ? AND seq BETWEEN ? AND ?"""
    spans = (numbers for doubt in doubts for numbers in doubt.spans)
    counted = (ledger.row(sql, (probe, stamp(since), stamp(until), *numbers)) for numbers in spans)
    return sum(row["n"] for row in counted if row)


def disagrees(ledger: Ledger, now: datetime) -> Disagrees | None:
    """How this machine's clock differs from what the last entries let expect; None where it does not."""
    last = record.last_seq(ledger)
    found = clocks(ledger, back=_NEAR)
    expected = found.expected(*ledger.uptime())
    if expected is not None:
        return Disagrees(now, expected, last, is_set=True) if abs(now - expected) > APART else None
    for noted, _ in _rows(ledger, last):
        is_behind = noted.up_ms is not None and noted.noted_at - now > APART
        if is_behind and found.doubt(last) is None:
            return Disagrees(now, noted.noted_at, last, is_set=False)
    return None


def passed(ledger: Ledger, now: datetime) -> datetime:
    """What time it is by what passed on this machine, where its clock was set since; else what it shows."""
    found = disagrees(ledger, now)
    return found.expected if found is not None and found.is_set else now


def expected(ledger: Ledger) -> datetime | None:
    """The time now by the last entries that this machine wrote since it started; None without any."""
    return clocks(ledger, back=_NEAR).expected(*ledger.uptime())


def clocks_beside(ledger: Ledger, first: int, last: int) -> Clocks:
    """What some entries and a few before and after show of clocks, whatever else was written."""
    near = (noted for noted, _ in _rows(ledger, first - BESIDE, last + BESIDE))
    return clocks_of(near, said_right(ledger))


def entries_of(ledger: Ledger, doubt: Doubt) -> list[Entry]:
    """The entries that a doubt is about, without those taken back or put right since, in order."""
    right = put_right(ledger)
    found: list[Entry] = []
    for span in doubt.spans:
        rows = ledger.rows(f"{record.SELECT} WHERE e.seq BETWEEN ? AND ? ORDER BY e.seq", span)
        found += map(record.as_entry, rows)
    return [entry for entry in found if not entry.undone and entry.seq not in right]


def _around(ledger: Ledger, first: int, last: int) -> Clocks:
    """What entries and those near them show; of older ones without all that was written since."""
    until = last + LOOKED_BACK
    if until >= record.last_seq(ledger):
        return clocks(ledger, first)
    near = (noted for noted, _ in _rows(ledger, first - LOOKED_BACK, until))
    return clocks_of(near, said_right(ledger))


def _doubts_around(ledger: Ledger, first: int, last: int) -> Clocks:
    """What entries and those near them show of clocks where one was wrong; nothing where none was."""
    since, until = max(1, first - LOOKED_BACK), last + LOOKED_BACK
    is_of_late = until >= record.last_seq(ledger)
    quiet = is_quiet(ledger, since) if is_of_late else was_quiet(ledger, since, until)
    return Clocks() if quiet else _around(ledger, first, last)


def _goes_on(ledger: Ledger, known: _Followed, told: frozenset[int]) -> bool:
    """Whether the record still has what was taken in, and nobody took back which clock is right."""
    if {seq for seq in told if seq <= known.seq} != known.told:
        return False
    return not known.seq or chain.link_at(ledger, known.seq) == known.sha256


def _rows(ledger: Ledger, since_seq: int, until_seq: int = _NO_END) -> Iterator[tuple[Noted, str]]:
    sql = """SELECT e.seq, e.noted_at, l.boot, l.up_ms, l.sha256 FROM entries e JOIN links l ON l.seq = e.seq
        WHERE e.seq BETWEEN ? AND ? ORDER BY e.seq"""
    for row in ledger.rows(sql, (since_seq, until_seq)):
        yield Noted(row["seq"], moment(row["noted_at"]), row["boot"], row["up_ms"]), row["sha256"]


def said_right(ledger: Ledger) -> frozenset[int]:
    """The entries in which somebody said which clock is right, and which nobody took back."""
    return frozenset(row["seq"] for row in ledger.rows(SAID_RIGHT))


def put_right(ledger: Ledger) -> frozenset[int]:
    """The entries whose time somebody put right."""
    sql = f"""SELECT json_extract(e.data, '$.entry') AS seq FROM entries e
        WHERE e.kind = 'correction' AND json_extract(e.data, '$.at') IS NOT NULL AND {record.STANDS}"""
    return frozenset(row["seq"] for row in ledger.rows(sql))
