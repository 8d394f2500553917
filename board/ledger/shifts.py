"""By how much the times of each stretch that a wrong clock wrote are moved, so that they follow the others.

Where it is known how far that clock was off, by that: the time between two entries of one boot is then what
passed on the machine, whichever clock was right. Where nobody knows, an entry keeps its place in the order:
no sooner than the last entry before it by a right clock, no later than the next.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.ledger.clocks import Clocks, Doubt
from board.ledger.open import Ledger
from board.ledger.times import moment

_APART = timedelta(seconds=1)  # what keeps two entries in their order
FAR = timedelta(days=10)  # longer than any rule's time: what nothing follows may be of any time


@dataclass(frozen=True, slots=True)
class Shift:
    """What is taken off the times of entries that follow each other: `by`, or at least `or_by` instead.

    They were written from `since` to `until`, by the wrong clock.
    """

    first: int
    last: int
    since: datetime
    until: datetime
    by: timedelta
    or_by: timedelta = timedelta(0)
    is_known: bool = True


def shifts_of(ledger: Ledger, found: Clocks) -> Iterator[Shift]:
    """The shift of each stretch of doubtful entries."""
    for doubt in found.doubts:
        for span in doubt.spans:
            yield _shift(ledger, found, doubt, span)


def _shift(ledger: Ledger, found: Clocks, doubt: Doubt, span: tuple[int, int]) -> Shift:
    first, last = _noted_at(ledger, *span)
    if doubt.ahead is not None:
        return Shift(*span, first, last, doubt.ahead)
    before, after = _beside(ledger, found, span[0], -1), _beside(ledger, found, span[1], 1)
    if before is None:
        before = first if after is None else after - (last - first) - FAR
    if after is None:
        after = before + (last - first) + FAR
    return Shift(*span, first, last, first - before - _APART, last - after + _APART, is_known=False)


def _beside(ledger: Ledger, found: Clocks, seq: int, step: int) -> datetime | None:
    """When the nearest entry before or after one was written by a clock that is not doubted."""
    seq += step
    while (doubt := found.doubt(seq)) is not None:
        first, last = next(span for span in doubt.spans if span[0] <= seq <= span[1])
        seq = (first if step < 0 else last) + step
    return next(iter(_noted_at(ledger, seq)), None)


def _noted_at(ledger: Ledger, *seqs: int) -> list[datetime]:
    """When some entries were written, of those that there are."""
    found = (ledger.row("SELECT noted_at FROM entries WHERE seq = ?", (seq,)) for seq in seqs)
    return [moment(row["noted_at"]) for row in found if row is not None]
