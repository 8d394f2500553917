"""What probes feed: each reading once, of what it was of, until somebody strikes it."""

from contextlib import suppress
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from board.errors import LedgerError
from board.house.library import library_cuts
from board.ledger import feeding, overlay, read, write
from board.ledger.checking import Right
from board.ledger.open import Ledger, open_ledger
from board.ledger.past import past_cooks
from board.ledger.state import LoadStage
from board.ledger.times import stamp
from board.probes.reading import Fed

from .by_hand import DAY, LOADED, brisket, plan

LOAD = "1209-brisket-1"
COLUMNS = [
    "probe",
    "at",
    "place",
    "load",
    "load_day",
    "temperature_c",
    "seq",
    "told_load",
    "told_day",
    "struck",
]


def air(minute: float, celsius: float, probe: str = "north air") -> Fed:
    """A reading of North's air, some minutes after the load went on."""
    return Fed(probe, LOADED + timedelta(minutes=minute), celsius, place="north")


def core(minute: float, celsius: float, probe: str = "p1") -> Fed:
    """A reading of a probe that sits in some meat."""
    return Fed(probe, LOADED + timedelta(minutes=minute), celsius)


def feed(ledger: Ledger, *readings: Fed, minute: float = 180) -> feeding.Flushed:
    """Record them some minutes after the load went on."""
    return feeding.take_fed(ledger, "stdin", readings, noted_at=LOADED + timedelta(minutes=minute))


def said(minute: float, noted: float = 180) -> dict[str, Any]:
    """Ada says so of a minute, at another."""
    return {
        "who": "Ada",
        "at": LOADED + timedelta(minutes=minute),
        "noted_at": LOADED + timedelta(minutes=noted),
    }


def cores(ledger: Ledger, load: str = LOAD) -> list[float]:
    """What counts as read of a load's core."""
    return [one.temperature_c for one in read.readings(ledger, load=load, day=DAY)]


def table(ledger: Ledger) -> list[dict[str, Any]]:
    """Every row of the table."""
    return ledger.rows("SELECT * FROM fed ORDER BY probe, at")


def test_a_reading_counts_once(planned: Ledger) -> None:
    """What is delivered twice, in one flush or in two, is there once and counted as doubled."""
    first = feed(planned, air(0, 110), air(0, 110), air(1, 111))
    again = feed(planned, air(1, 111), air(2, 112))
    third = feed(planned, air(2, 112))
    assert (first.kept, first.doubled, again.kept, again.doubled) == (2, 1, 1, 1)
    assert (third.entry, third.doubled) == (None, 1)
    assert [r.temperature_c for r in read.readings(planned, place="north")] == [110, 111, 112]
    assert [(f.kept, f.doubled) for f in feeding.feeds(planned)] == [(3, 3)]


def test_fed_and_hand_read_temperatures_are_read_together(planned: Ledger) -> None:
    """By time, whoever read them; the last one is the pit's and the load's."""
    write.light(planned, "north", 110.0, **said(-60))
    feed(planned, air(0, 110), air(10, 112))
    write.take_reading(planned, 111.0, place="north", **said(5))
    found = read.readings(planned, place="north")
    assert [(one.temperature_c, one.who, one.probe) for one in found] == [
        (110, "north air", "north air"),
        (111, "Ada", None),
        (112, "north air", "north air"),
    ]
    assert read.pit_states(planned)["north"].last_air_c == 112
    assert [one.temperature_c for one in read.readings(planned, place="north", limit=2)] == [111, 112]
    assert "fed" not in {entry.kind for entry in read.entries(planned)}


def test_placing(planned: Ledger) -> None:
    """A probe said to be in a load since some time back makes what it fed since then that load's."""
    feed(planned, core(0, 5), core(10, 6), core(20, 7))
    placed = feeding.place_probe(planned, "p1", LOAD, **said(10))
    assert feeding.place_probe(planned, "p1", LOAD, **said(12)).already
    feed(planned, core(30, 8))
    assert cores(planned) == [6, 7, 8]
    assert read.load_states(planned, DAY)[0].last_core_c == 8
    feeding.place_probe(planned, "p1", None, **said(25))
    assert cores(planned) == [6, 7]
    for minute, right in ((0, [5, 6, 7]), (15, [7])):
        taken_at = LOADED + timedelta(minutes=minute)
        write.correct(planned, placed.seq, Right(taken_at=taken_at), **said(60))
        assert cores(planned) == right
    write.undo(planned, placed.seq, **said(90))
    assert cores(planned) == []
    with pytest.raises(LedgerError, match="no load other"):
        feeding.place_probe(planned, "p1", "other", **said(95))


def test_a_probe_is_out_of_a_load_that_is_gone(planned: Ledger) -> None:
    """Served, a load has no probe in it any more: what comes then is not its core."""
    feeding.place_probe(planned, "p1", LOAD, **said(0))
    for minute, stage in enumerate(("on", "pulled", "served")):
        write.mark_load(planned, LOAD, LoadStage(stage), **said(minute + 10))
    feed(planned, core(11, 90), core(13, 20))
    assert cores(planned) == [90]
    assert read.entries(planned, kinds=["placed"])[-1].who == "stdin"
    with pytest.raises(LedgerError, match="is served"):
        feeding.place_probe(planned, "p1", LOAD, **said(14))


def test_what_is_struck_proves_nothing(planned: Ledger) -> None:
    """A probe that fell out: what it read meanwhile counts nowhere, what comes late neither, until undone."""
    feeding.place_probe(planned, "p1", LOAD, **said(0))
    feed(planned, core(0, 60), core(10, 25), core(20, 26), core(30, 62))
    span = (LOADED + timedelta(minutes=5), LOADED + timedelta(minutes=20))
    struck = feeding.strike_probe(planned, "p1", *span, "fell out", **said(40))
    assert struck.data["readings"] == 2
    feed(planned, core(15, 24))
    assert cores(planned) == [60, 62]
    assert len(table(planned)) == 5
    feeding.strike_probe(planned, "p1", LOADED, span[1], **said(45))
    assert [row["struck"] for row in table(planned)] == [struck.seq + 2, *[struck.seq] * 3, None]
    write.undo(planned, struck.seq, **said(50))
    assert cores(planned) == [62]
    write.undo(planned, struck.seq + 2, **said(50))
    assert cores(planned) == [60, 25, 24, 26, 62]
    with pytest.raises(LedgerError, match="fed nothing that counts"):
        feeding.strike_probe(planned, "p2", *span, **said(50))
    with pytest.raises(LedgerError, match="turn them round"):
        feeding.strike_probe(planned, "p1", *reversed(span), **said(50))


def test_struck_cores_and_air_teach_nothing(planned: Ledger) -> None:
    """A past cook's core and air are of fed readings too, without those struck."""
    feed(planned, *(air(minute, 100 + minute) for minute in (1, 2, 3)), core(61, 91))
    feeding.place_probe(planned, "p1", LOAD, **said(0))
    write.mark_load(planned, LOAD, LoadStage.ON, **said(0))
    write.mark_load(planned, LOAD, LoadStage.PULLED, **said(60))
    assert [(c.core_c, c.air_c) for c in past_cooks(planned, library_cuts(), DAY)] == [(91, 102)]
    for probe in ("p1", "north air"):
        feeding.strike_probe(planned, probe, LOADED, LOADED + timedelta(minutes=90), **said(100))
    assert [(c.core_c, c.air_c) for c in past_cooks(planned, library_cuts(), DAY)] == [(None, None)]


def test_a_signature_covers_what_was_fed(planned: Ledger) -> None:
    """By the times of readings: one that comes late, with others of today, or is struck later, is told."""
    until = LOADED + timedelta(hours=1)
    feed(planned, air(0, 110), air(59, 111))
    signed = [write.sign(planned, LOADED, until, **said(90))]
    feed(planned, air(100, 112))
    assert write.sign(planned, LOADED, until, **said(101)).already
    feed(planned, air(30, 90), air(110, 112))
    signed.append(write.sign(planned, LOADED, until, **said(120)))
    struck = feeding.strike_probe(planned, "north air", LOADED, LOADED, **said(130))
    signed.append(write.sign(planned, LOADED, until, **said(140)))
    write.undo(planned, struck.seq, **said(150))
    signed.append(write.sign(planned, LOADED, until, **said(160)))
    feeding.strike_probe(planned, "north air", until, until + timedelta(hours=1), **said(170))
    assert write.sign(planned, LOADED, until, **said(180)).already
    assert len({one.data["sha256"] for one in signed}) == len(signed)
    assert not any(one.already for one in signed)


moves = st.lists(
    st.one_of(
        st.tuples(st.just("feed"), st.integers(0, 9), st.integers(0, 9)),
        st.tuples(st.just("place"), st.integers(0, 9), st.sampled_from([None, "a", "b"])),
        st.tuples(st.just("strike"), st.integers(0, 9), st.integers(0, 9)),
        st.tuples(st.just("undo"), st.integers(0, 30), st.none()),
        st.tuples(st.just("retime"), st.integers(0, 30), st.integers(0, 9)),
    ),
    max_size=14,
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(moves)
def test_the_table_is_what_replaying_the_record_gives(
    tmp_path_factory: pytest.TempPathFactory, drawn: list[tuple[str, int, Any]]
) -> None:
    """Fed, placed, struck, undone and put right in any order: each row is what the record says of it."""
    with open_ledger(tmp_path_factory.mktemp("fed") / "board.db", create=True) as ledger:
        at = LOADED - timedelta(hours=5)
        write.commit_plan(ledger, plan(brisket("a"), brisket("b")), who="Ada", at=at, noted_at=at)
        for what, one, other in drawn:
            with suppress(LedgerError):
                _do(ledger, what, one, other)
        kept = table(ledger)
        assert kept == expected(ledger)
        with ledger.writing():
            overlay.refill(ledger)
        assert table(ledger) == kept


def _do(ledger: Ledger, what: str, one: int, other: Any) -> None:
    """One thing that may happen to a probe's readings, or be refused."""
    if what == "feed":
        feed(ledger, core(one, 50 + one), core(other, 60 + other))
    elif what == "place":
        feeding.place_probe(ledger, "p1", other, **said(one))
    elif what == "strike":
        span = (LOADED + timedelta(minutes=one), LOADED + timedelta(minutes=other))
        feeding.strike_probe(ledger, "p1", *span, **said(60))
    elif what == "undo":
        write.undo(ledger, one + 2, **said(60))
    else:
        write.correct(ledger, one + 2, Right(taken_at=LOADED + timedelta(minutes=other)), **said(60))


def expected(ledger: Ledger) -> list[dict[str, Any]]:
    """The rows as a plain reading of the entries gives them, by none of the code that keeps them."""
    entries = read.entries(ledger, since_seq=0, kinds=["fed", "placed", "struck", "correction"])
    stands = [e for e in entries if not e.undone]
    right = {e.data["entry"]: e.data["at"] for e in stands if e.kind == "correction"}
    placed = sorted((right.get(e.seq, stamp(e.at)), e.seq, e.data) for e in stands if e.kind == "placed")
    struck = [(e.seq, e.data) for e in stands if e.kind == "struck"]
    told = [(e.seq, *one) for e in entries if e.kind == "fed" for one in e.data["readings"]]
    rows = []
    for seq, probe, at, place, load, day, celsius in told:
        before = [data for moment, _, data in placed if moment <= at]
        counts = (before[-1].get("load"), before[-1].get("day")) if before else (load, day)
        spans = [number for number, data in struck if data["since"] <= at <= data["until"]]
        own = (probe, at, place, *counts, celsius, seq, load, day, min(spans, default=None))
        rows.append(dict(zip(COLUMNS, own, strict=True)))
    return sorted(rows, key=lambda row: (row["probe"], row["at"]))
