"""Readings that probes fed, all of them or thinned out for what is looked at from second to second.

Thinned out, a probe's coldest and hottest reading of each short stretch stay, and both ends of every longer
pause: what was extreme is seen, and a gap is as long as it was.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import lru_cache
from itertools import groupby, pairwise
from typing import Any

from board.house.probes import Silence
from board.ledger.open import Ledger, Row
from board.ledger.record import link_of_last
from board.ledger.state import Reading
from board.ledger.times import day_text, moment

LONGEST_STRETCH_S = 300.0  # of a day there are then 600 readings at most, more than a screen has columns
SERIES_KEPT = 64  # places and loads whose older readings are thinned out once
_AN_HOUR = len("2026-12-19T05")
_EVERY = "SELECT probe, at, place, load, temperature_c, seq FROM fed WHERE"
_COLUMNS = f"{_EVERY} struck IS NULL"


def fed_readings(ledger: Ledger, clauses: Sequence[str], values: Sequence[Any], limit: str) -> list[Reading]:
    """The readings that meet some conditions, none that was struck, the latest first."""
    sql = f"{' AND '.join((_COLUMNS, *clauses))} ORDER BY at DESC{limit}"
    return [_reading(row) for row in ledger.rows(sql, values)]


def thinned_readings(
    ledger: Ledger, clauses: Sequence[str], values: Sequence[Any], silence: Silence
) -> list[Reading]:
    """The same thinned out, so that none of a probe that went on sending are as far apart as a silence.

    What is older than the hour of the last one is thinned out once, and again only after it has changed.
    """
    where = " AND ".join(clauses) or "1"
    last = ledger.rows(f"SELECT max(at) AS at FROM fed WHERE {where}", values)[0]["at"]
    if last is None:
        return []
    hour = last[:_AN_HOUR]
    older = f"SELECT count(*) AS n FROM fed WHERE {where} AND at < ?"
    count = ledger.rows(older, (*values, hour))[0]["n"]
    before = _before(ledger, f"{where} AND at < ?", (*values, hour), silence, (count, _last_laid(ledger)))
    return [*before, *_found(ledger, f"{where} AND at >= ?", (*values, hour), silence)]


def struck_readings(ledger: Ledger, load: str, day: date, silence: Silence) -> list[Reading]:
    """What probes fed of a load and somebody struck, thinned out; by probe and time."""
    sql = f"{_EVERY} struck IS NOT NULL AND load = ? AND load_day = ? ORDER BY probe, at"
    found = groupby(ledger.rows(sql, (load, day_text(day))), key=lambda row: str(row["probe"]))
    return [
        _reading(row) for probe, rows in found for row in _thinned([*rows], 60.0 * silence.minutes(probe))
    ]


def thinned(readings: Sequence[Reading], silence: Silence) -> list[Reading]:
    """Readings that are at hand thinned out alike: all by hand, and those of each probe by its silence."""
    found = [one for one in readings if one.probe is None]
    of_probe: dict[str, list[Reading]] = {}
    for one in readings:
        if one.probe is not None:
            of_probe.setdefault(one.probe, []).append(one)
    for probe, own in of_probe.items():
        points = [(one.at.timestamp(), one.temperature_c) for one in own]
        found += [own[n] for n in _kept(points, 60.0 * silence.minutes(probe))]
    return sorted(found, key=lambda one: (one.at, one.seq))


@lru_cache(maxsize=SERIES_KEPT)
def _before(
    ledger: Ledger,
    where: str,
    values: tuple[Any, ...],
    silence: Silence,
    _version: tuple[int, str],  # with one reading more or fewer, or one more strike, it is another question
) -> list[Reading]:
    return _found(ledger, where, values, silence)


def _last_laid(ledger: Ledger) -> str:
    """The link of the last entry that may have made older readings count otherwise."""
    return link_of_last(ledger, ("placed", "struck", "undo", "correction"))


def _found(ledger: Ledger, where: str, values: Sequence[Any], silence: Silence) -> list[Reading]:
    of_probe: dict[str, list[Row]] = {}
    for row in ledger.rows(f"{_COLUMNS} AND {where} ORDER BY at", values):
        of_probe.setdefault(row["probe"], []).append(row)
    return [
        _reading(row)
        for probe, rows in of_probe.items()
        for row in _thinned(rows, 60.0 * silence.minutes(probe))
    ]


def _reading(row: Row) -> Reading:
    probe, place = row["probe"], row["load"] or row["place"] or row["probe"]
    return Reading(
        row["seq"], moment(row["at"]), probe, place, row["temperature_c"], row["load"], probe=probe
    )


def _thinned(rows: Sequence[Row], silent_s: float) -> list[Row]:
    """The rows that are kept of one probe."""
    points = [(moment(row["at"]).timestamp(), float(row["temperature_c"])) for row in rows]
    return [rows[n] for n in _kept(points, silent_s)]


def _kept(points: Sequence[tuple[float, float]], silent_s: float) -> list[int]:
    """The extremes of each stretch of half the silent time, and the ends of every pause longer than that.

    Of (seconds, °C) in order of time, their places.
    """
    stretch_s = min(silent_s / 2.0, LONGEST_STRETCH_S)
    seconds = [at for at, _ in points]
    kept = {0, len(points) - 1}
    for here, (at, after) in enumerate(pairwise(seconds)):
        if after - at > stretch_s:
            kept |= {here, here + 1}
    for own in _stretches(seconds, stretch_s):
        kept.add(min(own, key=lambda n: points[n][1]))
        kept.add(max(own, key=lambda n: points[n][1]))
    return sorted(kept)


def _stretches(seconds: Iterable[float], stretch_s: float) -> Iterator[list[int]]:
    """The places of what lies in one stretch of the clock, in order."""
    own: list[int] = []
    number = None
    for here, at in enumerate(seconds):
        if own and at // stretch_s != number:
            yield own
            own = []
        number = at // stretch_s
        own.append(here)
    if own:
        yield own
