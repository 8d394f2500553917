"""Loads of a day that a person wants split or joined: the next plan of the day has them so."""

from datetime import date, datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import typed
from board.ledger.append import append
from board.ledger.open import Ledger
from board.ledger.pinning import MOST_PIECES, check_not_begun
from board.ledger.state import Entry
from board.ledger.times import day_text


def split_load(
    ledger: Ledger,
    day: date,
    load: str,
    pieces: int,
    into: str,
    *,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Have so many pieces of a load cooked as a load of their own.

    Args:
        ledger: where to record it.
        day: the planned day.
        load: the load, which need not be committed yet.
        pieces: how many of it go.
        into: the id of the load they become.
        who: wants it so.
        at: when that was said.
        noted_at: now.

    Raises:
        LedgerError: the load has begun, no pieces, or a doubtful time.
    """
    if not 1 <= pieces <= MOST_PIECES:
        raise LedgerError(f"{pieces} pieces cannot be split off; from 1 to {MOST_PIECES} can")
    return _said(ledger, "split", (day, load, into), {"pieces": pieces}, who=who, at=at, noted_at=noted_at)


def join_loads(
    ledger: Ledger, day: date, load: str, other: str, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Have another load cooked together with a load, where that is.

    Raises:
        LedgerError: one of them has begun, both are one, or a doubtful time.
    """
    if load == other:
        raise LedgerError(f"{load} cannot be joined with itself; name another load")
    return _said(ledger, "join", (day, load, other), {}, who=who, at=at, noted_at=noted_at)


def _said(
    ledger: Ledger, kind: str, loads: tuple[date, str, str], data: dict[str, Any], **given: Any
) -> Entry:
    day, load, other = loads
    with ledger.writing():
        said = typed.said(ledger, **given)
        one, two = typed.name(load, "the load"), typed.name(other, "the other load")
        for id in (one, two):
            check_not_begun(ledger, day, id, "split or joined")
        return append(ledger, said, kind, one, {"day": day_text(day), "other": two} | data)
