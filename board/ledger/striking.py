"""What striking a span of what a probe fed would take, and what was struck of it already."""

from dataclasses import dataclass
from datetime import datetime

from board.ledger import store
from board.ledger.facts import StruckFacts
from board.ledger.fed import fed_readings
from board.ledger.open import Ledger, Row
from board.ledger.state import Reading
from board.ledger.times import moment, stamp

_COUNTS = "FROM fed WHERE probe = ? AND struck IS NULL AND at"
_SPAN = f"""SELECT count(*) AS n, min(temperature_c) AS low_c, max(temperature_c) AS high_c
    {_COUNTS} BETWEEN ? AND ?"""
_BEFORE = f"SELECT at, temperature_c {_COUNTS} < ? ORDER BY at DESC LIMIT 1"
_AFTER = f"SELECT at, temperature_c {_COUNTS} > ? ORDER BY at LIMIT 1"


@dataclass(frozen=True, slots=True)
class Beside:
    """A reading that stays, next to what would be struck."""

    at: datetime
    temperature_c: float


@dataclass(frozen=True, slots=True)
class Strikable:
    """What counts of a span of what a probe fed, and the readings before and after it; None for none."""

    readings: int
    low_c: float
    high_c: float
    before: Beside | None
    after: Beside | None


@dataclass(frozen=True, slots=True)
class StruckSpan:
    """A strike with how many readings it takes of a span, how cold and how hot."""

    strike: StruckFacts
    readings: int
    low_c: float
    high_c: float


def strikable(ledger: Ledger, probe: str, since: datetime, until: datetime) -> Strikable | None:
    """What a strike from one moment to another, both in it, would take; None where that is nothing."""
    row = ledger.rows(_SPAN, (probe, stamp(since), stamp(until)))[0]
    if not row["n"]:
        return None
    before = ledger.row(_BEFORE, (probe, stamp(since)))
    after = ledger.row(_AFTER, (probe, stamp(until)))
    return Strikable(row["n"], row["low_c"], row["high_c"], _beside(before), _beside(after))


def last_before(ledger: Ledger, probe: str, moment: datetime) -> Beside | None:
    """The last that counts of what a probe fed before a moment."""
    return _beside(ledger.row(_BEFORE, (probe, stamp(moment))))


def fed_between(ledger: Ledger, probe: str, since: datetime, until: datetime) -> list[Reading]:
    """What counts of what a probe fed from one moment to another, both in it, in the order of time."""
    values = (probe, stamp(since), stamp(until))
    return fed_readings(ledger, ("probe = ?", "at BETWEEN ? AND ?"), values, "")[::-1]


def struck_between(ledger: Ledger, probe: str, since: datetime, until: datetime) -> list[StruckSpan]:
    """The strikes that take something of a span of what a probe fed, in the order of time."""
    sql = """SELECT s.*, n, low_c, high_c FROM struck s JOIN (
        SELECT struck AS strike, count(*) AS n, min(temperature_c) AS low_c, max(temperature_c) AS high_c
        FROM fed WHERE probe = ? AND struck IS NOT NULL AND at >= ? AND at < ? GROUP BY struck
        ) ON strike = s.seq ORDER BY s.since, s.seq"""
    return [
        StruckSpan(store.as_facts(StruckFacts, row), row["n"], row["low_c"], row["high_c"])
        for row in ledger.rows(sql, (probe, stamp(since), stamp(until)))
    ]


def _beside(row: Row | None) -> Beside | None:
    return Beside(moment(row["at"]), row["temperature_c"]) if row else None
