"""What probes feed: many readings as one entry, each once; and which load a probe is in.

A reading is known by its probe and moment, so that what is delivered twice counts once. Where a feed was read
to is on disk together with what was read, never before it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import find, overlay, store, typed
from board.ledger.append import already, append
from board.ledger.facts import LoadFacts, PlacingFacts
from board.ledger.open import Ledger, Row
from board.ledger.overlay import EACH_PROBE
from board.ledger.state import Entry
from board.ledger.times import day_text, moment, stamp
from board.probes.reading import Bad, Fed

MOST_ASIDE = 500  # bad messages kept of each source, the latest ones
LONGEST_WHY, LONGEST_MESSAGE = 200, 500

_LAST_OF_EACH = f"""{EACH_PROBE} SELECT f.*, sent.at AS sent_at, sent.seq AS sent_seq
    FROM probes JOIN fed f ON f.probe = probes.probe
    AND f.at = (SELECT max(at) FROM fed WHERE probe = probes.probe AND struck IS NULL)
    JOIN fed sent ON sent.probe = probes.probe
    AND sent.at = (SELECT max(at) FROM fed WHERE probe = probes.probe)"""
_PLACED_LAST = """SELECT * FROM placings p WHERE seq = (
    SELECT seq FROM placings WHERE probe = p.probe ORDER BY at DESC, seq DESC LIMIT 1)"""


@dataclass(frozen=True, slots=True)
class Flushed:
    """What became of one flush: its entry where something was new, how many readings were, how many not."""

    entry: Entry | None
    kept: int
    doubled: int


@dataclass(frozen=True, slots=True)
class FeedState:
    """Where a feed stands: how far it was read, when it last wrote, and its counts since it began."""

    source: str
    position: str
    began_at: datetime
    flushed_at: datetime
    kept: int
    thinned: int
    doubled: int
    bad: int


@dataclass(frozen=True, slots=True)
class Aside:
    """A bad message that was set aside."""

    source: str
    at: datetime
    why: str
    message: str


def take_fed(ledger: Ledger, source: str, readings: Sequence[Fed], *, noted_at: datetime) -> Flushed:
    """Record what a feed brought as one entry; a reading that is there already is left out.

    Args:
        ledger: where to record it.
        source: which feed, by its name.
        readings: in any order.
        noted_at: now.

    Raises:
        LedgerError: a reading that is no kitchen temperature or still to come; then nothing is recorded.
    """
    with ledger.writing():
        new = _new(ledger, readings)
        entry = _record(ledger, source, new, noted_at) if new else None
        doubled = len(readings) - len(new)
        _count(ledger, source, noted_at, None, {"kept": len(new), "doubled": doubled})
        return Flushed(entry, len(new), doubled)


def note_feed(
    ledger: Ledger,
    source: str,
    *,
    noted_at: datetime,
    position: str | None = None,
    bad: Sequence[Bad] = (),
    thinned: int = 0,
) -> None:
    """Note how far a source was read (None: as far as before), what is set aside, how much was left out."""
    with ledger.writing():
        _set_aside(ledger, source, bad)
        _count(ledger, source, noted_at, position, {"thinned": thinned, "bad": len(bad)})


def place_probe(
    ledger: Ledger, probe: str, load: str | None, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Say that a probe was put into a load, or out of all (None); what it fed since then is that load's.

    Raises:
        LedgerError: no such load, one that is not about any more, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        probe = typed.name(probe, "the probe")
        data: dict[str, Any] = {}
        if load is not None:
            found = find.load(ledger, load, said.at)
            gone = _gone_at(found)
            if gone is not None and gone <= said.at:
                raise LedgerError(f"{found.id} is {found.stage}; put {probe} into a load that is about")
            data = {"load": found.id, "day": day_text(found.day)}
        now = _placed(ledger, probe, said.at)
        if (now["load"], now["load_day"]) == (data.get("load"), data.get("day")) if now else not data:
            if now is None:
                raise LedgerError(f"{probe} was put into no load; say which one it goes into")
            return already(ledger, now["seq"])
        return append(ledger, said, "placed", probe, data)


def strike_probe(
    ledger: Ledger,
    probe: str,
    since: datetime,
    until: datetime,
    why: str = "",
    *,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Strike what a probe fed over a span, both ends in it; it stays on record and proves nothing any more.

    Raises:
        LedgerError: a span that ends before it begins or is still to come, one in which it fed nothing, or
            a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        probe = typed.name(probe, "the probe")
        if until < since:
            raise LedgerError(f"the span ends at {ledger.clock(until)}, before it begins; turn them round")
        typed.said(ledger, who, until, noted_at)
        sql = "SELECT count(*) AS n FROM fed WHERE probe = ? AND at BETWEEN ? AND ? AND struck IS NULL"
        found = ledger.row(sql, (probe, stamp(since), stamp(until)))
        if not found or not found["n"]:
            raise LedgerError(
                f"{probe} fed nothing that counts from {ledger.clock(since)} to {ledger.clock(until)}; "
                "board feed status has the probes and when they last fed"
            )
        data = {"since": stamp(since), "until": stamp(until), "readings": found["n"]}
        return append(
            ledger, said, "struck", probe, data | ({"why": typed.text(why, "reason")} if why else {})
        )


def feeds(ledger: Ledger) -> list[FeedState]:
    """Where each feed stands, by its name."""
    return [
        FeedState(
            row["source"],
            row["position"],
            moment(row["began_at"]),
            moment(row["flushed_at"]),
            *(row[name] for name in ("kept", "thinned", "doubled", "bad")),
        )
        for row in ledger.rows("SELECT * FROM feeds ORDER BY source")
    ]


@dataclass(frozen=True, slots=True)
class ProbeState:
    """A probe as it stands: what it last fed that counts, and of which load or place that is.

    `struck_at` is when it last fed what was struck since, in entry `struck_seq`; None where the last it fed
    counts.
    """

    id: str
    at: datetime
    temperature_c: float
    place: str | None
    load: str | None
    load_day: date | None
    struck_at: datetime | None = None
    struck_seq: int = 0

    @property
    def sent_at(self) -> datetime:
        """When it last fed anything, whether that counts or not."""
        return self.struck_at or self.at


def probe_states(ledger: Ledger) -> list[ProbeState]:
    """Every probe that ever fed, with the last reading of it that counts."""
    rows = ledger.rows(_LAST_OF_EACH)
    return [
        ProbeState(
            row["probe"],
            moment(row["at"]),
            row["temperature_c"],
            row["place"],
            row["load"],
            date.fromisoformat(row["load_day"]) if row["load_day"] else None,
            moment(row["sent_at"]) if row["sent_at"] > row["at"] else None,
            row["sent_seq"],
        )
        for row in rows
    ]


def placed_last(ledger: Ledger) -> list[PlacingFacts]:
    """Where each probe was put by hand last, or that it was taken out then; by its id."""
    return [store.as_facts(PlacingFacts, row) for row in ledger.rows(f"{_PLACED_LAST} ORDER BY probe")]


def probes_in(ledger: Ledger, load: str, day: date) -> list[str]:
    """The probes that were last put into a load and not taken out of it, by their ids."""
    sql = f"{_PLACED_LAST} AND load = ? AND load_day = ? ORDER BY probe"
    return [row["probe"] for row in ledger.rows(sql, (load, day_text(day)))]


def position(ledger: Ledger, source: str) -> str:
    """How far a source was read; empty where it never was."""
    row = ledger.row("SELECT position FROM feeds WHERE source = ?", (source,))
    return str(row["position"]) if row else ""


def asides_since(ledger: Ledger, since: datetime) -> list[Aside]:
    """The messages set aside since a moment, the latest first."""
    sql = "SELECT source, at, why, message FROM aside WHERE at >= ? ORDER BY id DESC"
    rows = ledger.rows(sql, (stamp(since),))
    return [Aside(row["source"], moment(row["at"]), row["why"], row["message"]) for row in rows]


def asides(ledger: Ledger, limit: int) -> list[Aside]:
    """The messages set aside last, the latest first."""
    rows = ledger.rows("SELECT source, at, why, message FROM aside ORDER BY id DESC LIMIT ?", (limit,))
    return [Aside(row["source"], moment(row["at"]), row["why"], row["message"]) for row in rows]


def _new(ledger: Ledger, readings: Iterable[Fed]) -> list[Fed]:
    """The readings that are not there yet, each once, by time."""
    known: dict[tuple[str, str], Fed] = {}
    for one in readings:
        key = (one.probe, stamp(one.at))
        there = ledger.db.execute("SELECT 1 FROM fed WHERE probe = ? AND at = ?", key).fetchone()
        if there is None:
            known.setdefault(key, one)
    return sorted(known.values(), key=lambda one: (one.at, one.probe))


def _record(ledger: Ledger, source: str, new: Sequence[Fed], noted_at: datetime) -> Entry:
    said = typed.said(ledger, source, new[-1].at, noted_at)
    _take_out_of_gone(ledger, source, new, noted_at)
    entry = append(ledger, said, "fed", "", {"source": said.who, "readings": [_as_data(one) for one in new]})
    overlay.take_in(ledger, entry)
    return entry


def _as_data(one: Fed) -> list[Any]:
    day = day_text(one.day) if one.day else None
    return [one.probe, stamp(one.at), one.place, one.load, day, typed.temperature(one.temperature_c)]


def _take_out_of_gone(ledger: Ledger, source: str, new: Sequence[Fed], noted_at: datetime) -> None:
    """A probe is out of a load that was served or lost before it was read."""
    last = {one.probe: one.at for one in new}
    for probe, at in last.items():
        placed = _placed(ledger, probe, at)
        if placed is None or placed["load"] is None:
            continue
        load = ledger.row(
            "SELECT min(coalesce(served_at, lost_at), coalesce(lost_at, served_at)) AS gone_at FROM loads "
            "WHERE day = ? AND id = ?",
            (placed["load_day"], placed["load"]),
        )
        if load and load["gone_at"] and placed["at"] < load["gone_at"] <= stamp(at):
            said = typed.said(ledger, source, moment(load["gone_at"]), noted_at)
            append(ledger, said, "placed", probe, {})


def _placed(ledger: Ledger, probe: str, at: datetime) -> Row | None:
    """Where a probe was put last before a moment."""
    sql = "SELECT * FROM placings WHERE probe = ? AND at <= ? ORDER BY at DESC, seq DESC LIMIT 1"
    return ledger.row(sql, (probe, stamp(at)))


def _gone_at(load: LoadFacts) -> datetime | None:
    return min((at for at in (load.served_at, load.lost_at) if at is not None), default=None)


def _set_aside(ledger: Ledger, source: str, bad: Sequence[Bad]) -> None:
    if not bad:
        return
    rows = [
        (
            source,
            stamp(one.at),
            typed.inert(one.why[:LONGEST_WHY]),
            typed.inert(one.message[:LONGEST_MESSAGE]),
        )
        for one in bad[-MOST_ASIDE:]
    ]
    ledger.db.conn.executemany("INSERT INTO aside (source, at, why, message) VALUES (?, ?, ?, ?)", rows)
    ledger.db.execute(
        "DELETE FROM aside WHERE source = :source AND id <= (SELECT id FROM aside WHERE source = :source "
        "ORDER BY id DESC LIMIT 1 OFFSET :most)",
        {"source": source, "most": MOST_ASIDE},
    )


def _count(
    ledger: Ledger, source: str, noted_at: datetime, position: str | None, counts: Mapping[str, int]
) -> None:
    first = "INSERT INTO feeds VALUES (?, '', ?, ?, 0, 0, 0, 0) ON CONFLICT (source) DO NOTHING"
    ledger.db.execute(first, (source, stamp(noted_at), stamp(noted_at)))
    ledger.db.execute(
        """UPDATE feeds SET position = coalesce(:position, position), flushed_at = :at, kept = kept + :kept,
        thinned = thinned + :thinned, doubled = doubled + :doubled, bad = bad + :bad
        WHERE source = :source""",
        {"kept": 0, "thinned": 0, "doubled": 0, "bad": 0, **counts}
        | {"source": source, "position": position, "at": stamp(noted_at)},
    )
