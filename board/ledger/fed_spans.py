"""What each probe fed over a span, told in a few numbers: how many, how cold, how hot, silent when."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from board.house.probes import Silence
from board.ledger.open import Ledger
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
    span = stamp(since), stamp(until)
    return [one for probe in _probes(ledger) for one in _span(ledger, probe, span, silence)]


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


def _probes(ledger: Ledger) -> list[str]:
    """Every probe that ever fed, found from one to the next by the index."""
    sql = """WITH RECURSIVE found (probe) AS (SELECT min(probe) FROM fed UNION ALL
        SELECT (SELECT min(probe) FROM fed WHERE probe > found.probe) FROM found WHERE probe IS NOT NULL)
        SELECT probe FROM found WHERE probe IS NOT NULL"""
    return [row["probe"] for row in ledger.rows(sql)]


def _span(ledger: Ledger, probe: str, span: tuple[str, str], silence: Silence) -> Iterator[FedSpan]:
    sql = f"""SELECT count(*) AS n, count(struck) AS struck, min(temperature_c) AS low_c,
        max(temperature_c) AS high_c, min(at) AS first_at, max(at) AS last_at {_THOSE}"""
    row = ledger.rows(sql, (probe, *span))[0]
    if not row["n"]:
        return
    counts = ledger.rows(f"{sql} AND struck IS NULL", (probe, *span))[0]
    coldest, hottest = (counts if counts["n"] else row)["low_c"], (counts if counts["n"] else row)["high_c"]
    ends = moment(row["first_at"]), moment(row["last_at"])
    gaps = tuple(_gaps(ledger, probe, span, silence.minutes(probe)))
    yield FedSpan(probe, row["n"], row["struck"], coldest, hottest, *ends, gaps)


def _gaps(
    ledger: Ledger, probe: str, span: tuple[str, str], minutes: float
) -> Iterator[tuple[datetime, datetime]]:
    sql = f"""SELECT before, at FROM (SELECT at, lag(at) OVER (ORDER BY at) AS before {_THOSE}
        AND struck IS NULL) WHERE 1440.0 * (julianday(at) - julianday(before)) > ?"""
    for row in ledger.rows(sql, (probe, *span, minutes + 1e-6)):
        yield moment(row["before"]), moment(row["at"])
