"""The table of fed readings: what entries say, and laid over it what was placed and what was struck."""

import json
from collections.abc import Iterator, Sequence
from typing import Any

from board.ledger import record
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.ledger.times import stamp

_SAID = """UPDATE fed SET load = told_load, load_day = told_day, struck = (
    SELECT min(s.seq) FROM struck s WHERE s.probe = fed.probe AND fed.at BETWEEN s.since AND s.until)
    WHERE probe = :probe AND at BETWEEN :since AND :until"""
_PLACED = """UPDATE fed SET (load, load_day) = (
    SELECT p.load, p.load_day FROM placings p WHERE p.probe = fed.probe AND p.at <= fed.at
    ORDER BY p.at DESC, p.seq DESC LIMIT 1)
    WHERE probe = :probe AND at BETWEEN :since AND :until
    AND at >= (SELECT min(at) FROM placings WHERE probe = :probe)"""
_LAID = (
    "SELECT 1 FROM placings WHERE probe = :probe UNION ALL SELECT 1 FROM struck WHERE probe = :probe LIMIT 1"
)
# every probe there is, found from the one before it: no reading in between is looked at
EACH_PROBE = """WITH RECURSIVE probes (probe) AS (
    SELECT min(probe) FROM fed
    UNION ALL SELECT (SELECT min(probe) FROM fed WHERE probe > probes.probe) FROM probes
        WHERE probe IS NOT NULL)"""
_EVER = ("", "9")  # before and after any moment's text


def take_in(ledger: Ledger, entry: Entry) -> None:
    """Put the readings of a new entry into the table, as they count now."""
    _insert(ledger, entry.seq, entry.data["readings"])
    spans: dict[str, tuple[str, str]] = {}
    for probe, at, *_ in entry.data["readings"]:
        first, last = spans.get(probe, (at, at))
        spans[probe] = (min(first, at), max(last, at))
    for probe, (since, until) in spans.items():
        if ledger.db.execute(_LAID, {"probe": probe}).fetchone():
            renew(ledger, probe, since, until)


def renew(ledger: Ledger, probe: str, since: str = _EVER[0], until: str = _EVER[1]) -> None:
    """Lay what was placed and struck over what a probe fed in a span, both ends in it."""
    for sql in (_SAID, _PLACED):
        ledger.db.execute(sql, {"probe": probe, "since": since, "until": until})


def refill(ledger: Ledger) -> None:
    """Empty the table and fill it from the record alone, inside the caller's transaction."""
    ledger.db.execute("DELETE FROM fed")
    for seq, readings in replayed(ledger):
        _insert(ledger, seq, readings)
    probes = "SELECT probe FROM placings UNION SELECT probe FROM struck"
    for (probe,) in ledger.db.execute(probes).fetchall():
        renew(ledger, probe)


def replayed(ledger: Ledger) -> Iterator[tuple[int, list[list[Any]]]]:
    """The readings of each entry of the record that holds any, by its number."""
    for seq, data in ledger.db.execute("SELECT seq, data FROM entries WHERE kind = 'fed' ORDER BY seq"):
        yield seq, json.loads(data)["readings"]


def follow(ledger: Ledger, entry: Entry) -> None:
    """Let what a probe fed count as it does after a placing or a strike, or one taken back or put right."""
    kind, data, at = entry.kind, entry.data, stamp(entry.at)
    if kind == "undo":
        kind, data, at = data["kind"], data["data"], data["at"]
    if kind == "struck":
        renew(ledger, entry.subject, data["since"], data["until"])
    elif kind == "placed":
        target = entry.undoes or entry.seq
        renew(ledger, entry.subject, min((at, *_put_right(ledger, target))))
    elif kind == "correction" and data["of"] == "placed":
        renew(ledger, entry.subject, min(data["at"], data["was"]))


def _put_right(ledger: Ledger, seq: int) -> Iterator[str]:
    """The times at which an entry counts or counted, by its corrections."""
    for one in record.corrections_of(ledger, seq):
        yield from (one.data["at"], one.data["was"])


def _insert(ledger: Ledger, seq: int, readings: Sequence[Sequence[Any]]) -> None:
    rows = [
        (probe, at, place, load, day, celsius, seq, load, day)
        for probe, at, place, load, day, celsius in readings
    ]
    ledger.db.conn.executemany(
        "INSERT INTO fed (probe, at, place, load, load_day, temperature_c, seq, told_load, told_day) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        rows,
    )
