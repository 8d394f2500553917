"""Holding a load of a plan to a place, and letting it go: every new plan of its day keeps what is pinned."""

from datetime import date, datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import store, typed
from board.ledger.append import already, append, last
from board.ledger.fold import LoadFacts, PinFacts
from board.ledger.keys import load_key, pin_key
from board.ledger.open import Ledger
from board.ledger.state import Entry, LoadStage
from board.ledger.times import day_text, stamp


def pin_load(
    ledger: Ledger,
    day: date,
    load: str,
    pit: str,
    load_at: datetime,
    *,
    zone: str | None = None,
    setpoint_c: float | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Pin a load of a day's plan to a pit and a loading time, in place of where it was pinned before.

    Args:
        ledger: where to record it.
        day: the planned day.
        load: its id; it need not be committed yet.
        pit: where it is to cook.
        load_at: when loading is to begin.
        zone: the zone of the pit, where it has any.
        setpoint_c: the setpoint (°C), when not the plan's own.
        who: wants it there.
        at: when that was said.
        noted_at: now.

    Raises:
        LedgerError: the load has begun, no kitchen temperature, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        key = pin_key(day, typed.name(load, "the load"))
        _check_not_begun(ledger, day, key.id)
        data: dict[str, Any] = {
            "day": day_text(day),
            "pit": typed.name(pit, "the pit"),
            "load_at": stamp(load_at),
        }
        if zone is not None:
            data["zone"] = typed.name(zone, "the zone")
        if setpoint_c is not None:
            data["setpoint_c"] = typed.setpoint(setpoint_c)
        now = store.stored(ledger, key)
        wanted = PinFacts(day, key.id, data["pit"], data.get("zone"), data.get("setpoint_c"), load_at)
        if now == wanted:
            return already(ledger, last(ledger, key).seq)
        return append(ledger, said, "pin", key.id, data)


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


def _check_not_begun(ledger: Ledger, day: date, load: str) -> None:
    known = store.stored(ledger, load_key(day, load))
    if isinstance(known, LoadFacts) and known.stage is not LoadStage.PLANNED:
        raise LedgerError(f"{load} is {known.stage.value}; only a load that has not begun is pinned")
