"""`board mark` where there is a house: work on meat records what it took of which batch."""

import shutil
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from board.commands.mark import _done_step, _known_zone
from board.commands.plan import _now
from board.errors import LedgerError, PlanError
from board.house.files import read_house
from board.house.seeds import seed_house
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


def test_a_pit_that_the_house_has_no_more_is_told(demo: Path, tmp_path: Path) -> None:
    """A load of an older plan lies on it: the line says which pits there are."""
    folder, path = tmp_path / "row", tmp_path / "board.db"
    shutil.copy(demo, path)
    shutil.copytree(seed_house("hatch"), folder)
    with open_ledger(path) as ledger:
        ledger.db.execute("UPDATE house SET folder = ?", (str(folder),))
        with pytest.raises(LedgerError, match="no pit south any more; say which it is on: --pit drum"):
            _known_zone(ledger, "south", "top")


@pytest.mark.parametrize("typed", ["14:00+02:00", "24:00", "2 pm"])
def test_a_time_to_plan_from_is_of_the_houses_clock(typed: str) -> None:
    """A bare time of day with another zone's offset is refused, not taken for the house's."""
    with pytest.raises(PlanError, match="--now: found"):
        _now(typed, date(2026, 12, 19), read_house(seed_house("hatch")))
