"""What an inspector is shown of a feed: a line for each probe, its doors, its gaps; all of it is signed."""

from datetime import timedelta
from pathlib import Path

import pytest

from board.ledger import feeding
from board.ledger.digest import digest
from board.ledger.open import Ledger
from board.probes.reading import Fed
from board.safety.verdict import Answer
from board.sheets.record_csv import record_csv
from board.views.inspection import Inspection, inspection
from tests.app.boards import NOW, night_ledger
from tests.app.house_fixture import house

SINCE = NOW - timedelta(hours=5)
MINUTES, FLUSH = 300, 20


def fed_night(ledger: Ledger, *, warm: range = range(0), silent: range = range(0)) -> Inspection:
    """The walk-in fed each minute of a night, at 8 °C in some of them and not at all in others."""
    sent = [
        Fed("door", SINCE + timedelta(minutes=minute), 8.0 if minute in warm else 3.0, "walk-in")
        for minute in range(MINUTES)
        if minute not in silent
    ]
    for n in range(0, len(sent), FLUSH):
        feeding.take_fed(ledger, "stdin", sent[n : n + FLUSH], noted_at=NOW)
    return inspection(ledger, house(), SINCE, NOW + timedelta(minutes=1), NOW)


@pytest.mark.parametrize(
    ("warm", "silent", "answer"),
    [
        (range(0), range(0), Answer.PASS),
        (range(100, 108), range(0), Answer.PASS),
        (range(100, 160), range(0), Answer.FAIL),
        (range(0), range(100, 160), Answer.NOT_SHOWN),
    ],
    ids=["steady", "a door", "warm for an hour", "silent for an hour"],
)
def test_the_walk_in_is_judged_by_its_feed(
    warm: range, silent: range, answer: Answer, tmp_path: Path
) -> None:
    """A door is no fault, an hour too warm is one, and an hour without a reading is neither."""
    with night_ledger(tmp_path / "board.db") as ledger:
        view = fed_night(ledger, warm=warm, silent=silent)
    (proof,) = (one for one in view.proofs if one.key == "place:walk-in")
    assert proof.verdict is not None
    assert proof.verdict.answer is answer
    assert ("door opening" in proof.what) == (len(warm) == 8)


def test_a_feed_is_printed_by_probe_and_signed_entry_by_entry(tmp_path: Path) -> None:
    """Its entries are one line of the table together, and all of them are in the number that is signed."""
    with night_ledger(tmp_path / "board.db") as ledger:
        view = fed_night(ledger, silent=range(100, 160))
    assert sum(entry.kind == "fed" for entry in view.entries) == (MINUTES - 60) / FLUSH
    assert view.sha256 == digest(view.entries)
    lines = [line for line in record_csv(view).splitlines() if line.startswith("fed,")]
    assert len(lines) == 1
    assert "240 readings" in lines[0]
    assert "silent" in lines[0]
