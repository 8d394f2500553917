"""Which clock is right, as a person says it, and the times of a stretch put right together."""

from datetime import datetime, timedelta

from board.errors import LedgerError
from board.house.wording import said_ahead
from board.ledger import typed
from board.ledger.append import append
from board.ledger.checking import Right, correct
from board.ledger.clocks import Doubt
from board.ledger.doubtful import entries_of
from board.ledger.open import Ledger
from board.ledger.state import Entry, RightClock
from board.ledger.timing import TIMED, counted_at


def settle_clock(
    ledger: Ledger, right: RightClock, ahead: timedelta, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Say which is right, this machine's clock or the board's time, from which it was so far ahead.

    What is written by the other in this boot counts as doubtful. `noted_at` is by the right one.

    Raises:
        LedgerError: no name, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        data = {"right": RightClock(right), "ahead_s": round(ahead.total_seconds())}
        return append(ledger, said, "clock", "", data)


def put_times_right(
    ledger: Ledger, doubt: Doubt, ahead: timedelta, *, who: str, at: datetime, noted_at: datetime
) -> list[Entry]:
    """Correct the times of all that a wrong clock wrote by the same shift, as one act.

    Args:
        ledger: where it is recorded.
        doubt: which entries; those put right one by one before are left as they are.
        ahead: how far that clock was ahead; below zero where it was behind.
        who: says so.
        at: when it is said.
        noted_at: now.

    Raises:
        LedgerError: nothing there has a time to put right, or one of the times would contradict another;
            then none is put right.
    """
    meant = [(counted_at(ledger, entry), entry.seq) for entry in timed(ledger, doubt)]
    if not meant:
        raise LedgerError("nothing that this clock wrote has a time to put right")
    # what moves on goes last first, so that each keeps its place among the others on the way
    in_turn = sorted(meant, reverse=ahead < timedelta(0))
    why = f"its clock was {said_ahead(ahead)}"
    with ledger.together():
        return [
            _put_right(ledger, seq, was - ahead, why, who=who, at=at, noted_at=noted_at)
            for was, seq in in_turn
        ]


def timed(ledger: Ledger, doubt: Doubt) -> list[Entry]:
    """What a wrong clock wrote that has a time to put right, and nobody has put it right yet, in order."""
    return [entry for entry in entries_of(ledger, doubt) if entry.kind in TIMED]


def _put_right(
    ledger: Ledger, seq: int, right_at: datetime, why: str, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    try:
        return correct(ledger, seq, Right(taken_at=right_at), why, who=who, at=at, noted_at=noted_at)
    except LedgerError as error:
        raise LedgerError(
            f"entry {seq} at {ledger.clock(right_at)}: {error}; nothing is put right"
        ) from error
