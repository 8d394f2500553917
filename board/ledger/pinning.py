"""Holding a load of a plan to a place, and letting it go: every new plan of its day keeps what is pinned."""

from dataclasses import replace
from datetime import date, datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import store, typed
from board.ledger.append import already, append, last
from board.ledger.facts import LoadFacts, PinFacts
from board.ledger.keys import load_key, pin_key
from board.ledger.open import Ledger
from board.ledger.state import Entry, LoadStage
from board.ledger.times import day_text, stamp

MOST_PIECES = 10_000  # of one load


def pin_load(ledger: Ledger, pin: PinFacts, *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Pin a load of a day's plan to a pit and a loading time, in place of where it was pinned before.

    Args:
        ledger: where to record it.
        pin: the planned day, the load, which need not be committed yet, and where it is to cook.
        who: wants it there.
        at: when that was said.
        noted_at: now.

    Raises:
        LedgerError: the load has begun, no kitchen temperature, no pieces, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        wanted = _checked(pin)
        check_not_begun(ledger, wanted.day, wanted.load, "pinned")
        key = pin_key(wanted.day, wanted.load)
        if store.stored(ledger, key) == wanted:
            return already(ledger, last(ledger, key).seq)
        return append(ledger, said, "pin", key.id, _data(wanted))


def _checked(pin: PinFacts) -> PinFacts:
    """The pin as it may stand in the record."""
    if pin.pieces is not None and not 1 <= pin.pieces <= MOST_PIECES:
        raise LedgerError(f"{pin.pieces} pieces cannot be pinned; from 1 to {MOST_PIECES} can")
    return replace(
        pin,
        load=typed.name(pin.load, "the load"),
        pit=typed.name(pin.pit, "the pit"),
        zone=None if pin.zone is None else typed.name(pin.zone, "the zone"),
        setpoint_c=None if pin.setpoint_c is None else typed.setpoint(pin.setpoint_c),
    )


def _data(pin: PinFacts) -> dict[str, Any]:
    where = {"day": day_text(pin.day), "pit": pin.pit, "load_at": stamp(pin.load_at)}
    more = {"zone": pin.zone, "setpoint_c": pin.setpoint_c, "pieces": pin.pieces}
    return {**where, **{name: each for name, each in more.items() if each is not None}}


def unpin_load(ledger: Ledger, day: date, load: str, *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Let a pinned load go where planning likes it best.

    Raises:
        LedgerError: the load is not pinned, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        key = pin_key(day, typed.name(load, "the load"))
        if store.stored(ledger, key) is None:
            raise LedgerError(f"{key.id} is not pinned; nothing is let go")
        return append(ledger, said, "unpin", key.id, {"day": day_text(day)})


def check_not_begun(ledger: Ledger, day: date, load: str, done: str) -> None:
    """Refuse what can be done only to a load that has not begun, named as `done` to it.

    Raises:
        LedgerError: it has begun.
    """
    known = store.stored(ledger, load_key(day, load))
    if isinstance(known, LoadFacts) and known.stage is not LoadStage.PLANNED:
        raise LedgerError(f"{load} is {known.stage.value}; only a load that has not begun is {done}")
