"""`board mark` where there is a house: work on meat records what it took of which batch."""

import shutil
from datetime import datetime, timedelta
from pathlib import Path

from board.commands.mark import _done_step
from board.ledger import read
from board.ledger.open import Ledger, open_ledger


def undone_glazing(ledger: Ledger) -> tuple[str, datetime]:
    """A step of glazing still to do today, and when it is planned."""
    row = ledger.rows(
        """SELECT s.id, s.at FROM steps s JOIN batches b ON b.day = s.day AND b.made_at IS NOT NULL
        WHERE s.what = 'glaze' AND s.done_seq IS NULL AND s.day = '2026-12-19' AND b.recipe = 'cider-glaze'
        AND s.load LIKE '%ham%' ORDER BY s.at"""
    )[0]
    return str(row["id"]), datetime.fromisoformat(str(row["at"]))


def test_glazing_records_the_lot(demo: Path, tmp_path: Path) -> None:
    """The step's entry says how much of which lot went on the hams."""
    path = tmp_path / "board.db"
    shutil.copy(demo, path)
    with open_ledger(path) as ledger:
        step, at = undone_glazing(ledger)
        _done_step(ledger, step, {"who": "wren", "at": at, "noted_at": at + timedelta(minutes=1)})
        found = [use for use in read.uses(ledger, at.date()) if use.step == step]
    assert [(use.lot, use.kg > 0) for use in found] == [("1219-cider-glaze-1", True)]
