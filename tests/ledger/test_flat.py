"""Reads stay as quick after five years as on the first day: each searches by an index."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from board.house.library import library_cuts
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.past import past_cooks

from .by_hand import DAY, EVENING, LOADED
from .test_write import BRISKET, by

HALF_DAY = timedelta(hours=12)
SMALL = ("pits", "house")  # a handful of rows whatever the years

READS: dict[str, Callable[[Ledger], object]] = {
    "handover": read.last_handover,
    "since handover": lambda ledger: read.since_handover(ledger, kinds=["note", "load"]),
    "entries": lambda ledger: read.entries(ledger, since=EVENING, until=LOADED, kinds=["note", "load"]),
    "latest entries": lambda ledger: read.entries(ledger, limit=20),
    "loads": lambda ledger: read.load_states(ledger, DAY, DAY + timedelta(days=1)),
    "batches": lambda ledger: read.batch_states(ledger, DAY, DAY + timedelta(days=7)),
    "steps": lambda ledger: read.step_states(ledger, DAY),
    "open steps": lambda ledger: read.open_steps(ledger, EVENING, EVENING + HALF_DAY),
    "pits": read.pit_states,
    "core": lambda ledger: read.readings(ledger, load=BRISKET, day=DAY),
    "air": lambda ledger: read.readings(ledger, place="north", since=EVENING),
    "last air": lambda ledger: read.last_reading(ledger, place="north"),
    "past cooks": lambda ledger: past_cooks(ledger, library_cuts(), DAY - timedelta(days=120)),
    "pins": lambda ledger: read.pins(ledger, DAY),
    "promises": lambda ledger: read.promises(ledger, DAY),
    "sold": lambda ledger: read.sold(ledger, DAY),
    "plan": lambda ledger: read.current_plan(ledger, DAY),
    "versions": lambda ledger: read.plan_versions(ledger, DAY),
    "last undoable": lambda ledger: read.last_undoable(ledger, "Ines"),
    "changed": read.data_version,
    "mark": lambda ledger: write.mark_step(ledger, f"{BRISKET}.load", **by("Ines", LOADED)),
    "undo": lambda ledger: write.undo(
        ledger, 1 + len(read.entries(ledger, since_seq=1)), **by("Ines", LOADED)
    ),
}


@pytest.mark.parametrize("what", READS)
def test_no_read_goes_through_the_whole_record(planned: Ledger, what: str) -> None:
    """No question a view asks reads all rows of a table that grows."""
    write.light(planned, "north", 110.0, **by("Ines", EVENING))
    asked: list[str] = []
    with planned.db.tracer(lambda sql, _: asked.append(sql)):
        READS[what](planned)
    selects = [sql for sql in asked if sql.lstrip().startswith("SELECT")]
    assert selects or what in ("mark", "undo")
    for sql in selects:
        steps = planned.db.execute(f"EXPLAIN QUERY PLAN {sql}", (None,) * sql.count("?")).fetchall()
        scans = [step[3] for step in steps if step[3].startswith("SCAN")]
        assert [s for s in scans if not is_small(s)] == []


@pytest.mark.parametrize("what", ["entries", "since handover", "latest entries"])
def test_entries_are_searched_by_time(planned: Ledger, what: str) -> None:
    """The record between two moments is found by its times, not by going through all of a kind."""
    asked: list[str] = []
    with planned.db.tracer(lambda sql, _: asked.append(sql)):
        READS[what](planned)
    sql = asked[-1]
    steps = planned.db.execute(f"EXPLAIN QUERY PLAN {sql}", (None,) * sql.count("?")).fetchall()
    assert not any("entries_kind" in step[3] for step in steps)


def is_small(scan: str) -> bool:
    """Whether a scan is of a table that stays small, of a JSON document, or stops at its first rows."""
    return any(f"SCAN {table}" in scan for table in (*SMALL, "l VIRTUAL", "e USING INDEX entries_told"))
