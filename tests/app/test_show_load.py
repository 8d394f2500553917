"""`board show load`: one load's page as plain text."""

from pathlib import Path

import pytest

from board.cli import run
from board.errors import LedgerError
from board.sheets.load_sheet import load_sheet
from tests.app.boards import NOW, night_ledger, revised
from tests.app.house_fixture import house


@pytest.mark.parametrize("width", [60, 80, 140])
def test_a_load_s_page_fits_its_paper(width: int, tmp_path: Path) -> None:
    """The page has the sentence, the chart, the readings and the account, no wider than asked."""
    with night_ledger(tmp_path / "board.db") as ledger:
        text = load_sheet(ledger, house(), "sat-brisket", NOW, width=width, reviser=revised)
    lines = text.splitlines()
    assert max(len(line) for line in lines) <= width
    assert any(line.startswith("Ready about 08:05") for line in lines)
    assert text.count("●") >= 4
    for part in ("pull ─", "This load", "core 91°", "Where the time goes", "Not in the sums"):
        assert part in text


def test_a_load_nobody_planned_is_refused_with_those_there_are(tmp_path: Path) -> None:
    """The line names what was asked and the loads of the near days."""
    with (
        night_ledger(tmp_path / "board.db") as ledger,
        pytest.raises(LedgerError, match=r"no load sat-goose; .*sat-brisket"),
    ):
        load_sheet(ledger, house(), "sat-goose", NOW)


def test_another_view_takes_no_load(capsys: pytest.CaptureFixture[str]) -> None:
    """An id with another view is a usage error in one line."""
    assert run(["show", "opening", "--load", "sat-brisket"]) == 2
    assert "--load goes with board show load alone" in capsys.readouterr().err


def test_a_load_that_was_not_named_is_asked_for(tmp_path: Path) -> None:
    """Without an id the loads there are stand in the line."""
    with (
        night_ledger(tmp_path / "board.db") as ledger,
        pytest.raises(LedgerError, match=r"^say which load \(--load\); there are .*sat-brisket"),
    ):
        load_sheet(ledger, house(), "", NOW)
