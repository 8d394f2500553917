"""What each probe fed over a span, told in a few numbers: how many, how cold, how hot, silent when."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from board.house.probes import Silence
from board.ledger.open import Ledger
from board.ledger.overlay import EACH_PROBE
from board.ledger.times import moment, stamp

_THOSE = "FROM fed WHERE probe = ? AND at >= ? AND at < ?"


@dataclass(frozen=True, slots=True)
class FedSpan:
    """What one probe fed over a span; `struck` readings are on record and count for nothing."""

    probe: str
    readings: int
    struck: int
    low_c: float
    high_c: float
    first_at: datetime
    last_at: datetime
    gaps: tuple[tuple[datetime, datetime], ...] = ()


def fed_spans(ledger: Ledger, since: datetime, until: datetime, silence: Silence) -> list[FedSpan]:
    """What each probe fed over a span, by its id; its gaps are those longer than its silence."""
    probes = ledger.rows(f"{EACH_PROBE} SELECT probe FROM probes WHERE probe IS NOT NULL")
    found = (fed_span(ledger, row["probe"], since, until, silence) for row in probes)
    return [one for one in found if one is not None]


def fed_hours(ledger: Ledger, probe: str, since: datetime, until: datetime) -> list[FedSpan]:
    """What one probe fed in each hour of a span that counts."""
    sql = f"""SELECT count(*) AS n, min(temperature_c) AS low_c, max(temperature_c) AS high_c,
        min(at) AS first_at, max(at) AS last_at {_THOSE} AND struck IS NULL
        GROUP BY substr(at, 1, 13) ORDER BY 4"""
    return [
        FedSpan(
            probe, row["n"], 0, row["low_c"], row["high_c"], moment(row["first_at"]), moment(row["last_at"])
        )
        for row in ledger.rows(sql, (probe, stamp(since), stamp(until)))
    ]


def fed_span(
    ledger: Ledger, probe: str, since: datetime, until: datetime, silence: Silence
) -> FedSpan | None:
    """What one probe fed over a span; None where it fed nothing."""
    sql = f"""SELECT count(*) AS n, count(struck) AS struck, min(at) AS first_at, max(at) AS last_at,
        coalesce(min(temperature_c) FILTER (WHERE struck IS NULL), min(temperature_c)) AS low_c,
        coalesce(max(temperature_c) FILTER (WHERE struck IS NULL), max(temperature_c)) AS high_c {_THOSE}"""
    span = stamp(since), stamp(until)
    row = ledger.rows(sql, (probe, *span))[0]
    if not row["n"]:
        return None
    ends = moment(row["first_at"]), moment(row["last_at"])
    gaps = tuple(_gaps(ledger, probe, span, silence.minutes(probe)))
    return FedSpan(probe, row["n"], row["struck"], row["low_c"], row["high_c"], *ends, gaps)


def _gaps(
    ledger: Ledger, probe: str, span: tuple[str, str], minutes: float
) -> Iterator[tuple[datetime, datetime]]:
    sql = f"""SELECT before, at FROM (SELECT at, lag(at) OVER (ORDER BY at) AS before {_THOSE})
        WHERE 1440.0 * (julianday(at) - julianday(before)) > ?"""
    for row in ledger.rows(sql, (probe, *span, minutes + 1e-6)):
        yield moment(row["before"]), moment(row["at"])
