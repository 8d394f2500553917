"""What people say to an alarm: answered with a reason, or put off until later."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import store, typed
from board.ledger.append import already, append
from board.ledger.facts import AlarmFacts
from board.ledger.keys import alarm_key
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.ledger.times import day_text, stamp


@dataclass(frozen=True, slots=True)
class Rung:
    """The alarm that is answered: its key, how bad it is by now, what it says, and the load it is about."""

    key: str
    level: int
    says: str
    load: str | None = None
    day: date | None = None


def answer_alarm(
    ledger: Ledger, rung: Rung, why: str, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Answer an alarm with a reason: it stays quiet until it gets worse.

    Raises:
        LedgerError: no reason, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        known = store.stored(ledger, alarm_key(rung.key))
        if isinstance(known, AlarmFacts) and known.until is None and known.level >= rung.level:
            return already(ledger, known.seq)
        return append(ledger, said, "answered", rung.key, {**_data(rung), "why": typed.text(why, "reason")})


def put_off_alarm(
    ledger: Ledger, rung: Rung, until: datetime, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Put an alarm off: it stays quiet until then, unless it gets worse.

    Raises:
        LedgerError: a time that is past, or a doubtful one.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        if until <= noted_at:
            raise LedgerError(f"{ledger.clock(until)} is past; put it off until later, or answer it")
        return append(ledger, said, "put off", rung.key, {**_data(rung), "until": stamp(until)})


def _data(rung: Rung) -> dict[str, Any]:
    data: dict[str, Any] = {"level": rung.level, "says": typed.inert(rung.says)}
    if rung.load is not None and rung.day is not None:
        data |= {"load": rung.load, "day": day_text(rung.day)}
    return data
