"""A reading that does not count is said so at once, and stays in the record with its reason."""

from datetime import datetime, tzinfo
from pathlib import Path

import pytest

from board.cli import run
from board.views.revising import revised
from tests.app.boards import NOW, board, night_ledger
from tests.app.house_fixture import house
from tests.app.pictures import screen_text, settled


async def test_a_wild_temperature_is_told_and_kept(tmp_path: Path) -> None:
    """A core typed in the wrong unit is recorded, told on the line above the keys, and shown in Record."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        app.session.reviser = revised
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("t", *"197 C", "enter")
            await settled(app, pilot)
            assert "the shoulders: 197° not counted: it reads like °F taken for °C" in screen_text(app)
            await pilot.press("5")
            await settled(app, pilot)
            assert "the shoulders read 197°; not counted: it reads like °F" in screen_text(app)


def test_board_reading_says_what_does_not_count(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The command records a wild core and says in a second line that it does not count."""

    class Stopped(datetime):
        @classmethod
        def now(cls, tz: tzinfo | None = None) -> "Stopped":
            return cls.fromtimestamp(NOW.timestamp(), tz)

    monkeypatch.setattr("board.commands.recording.datetime", Stopped)
    monkeypatch.setattr("board.commands.reading.house_of", lambda _ledger: house())
    path = tmp_path / "board.db"
    night_ledger(path).close()
    for place, typed, lines in (
        ("walk-in", "3 C", 1),
        ("North", "117 C", 1),
        ("North", "244 C", 2),
        ("sat-brisket", "92 C", 1),
        ("sat-brisket", "197 C", 2),
    ):
        assert run(["reading", place, typed, "--who", "tomas", "--ledger", str(path)]) == 0
        told = capsys.readouterr().out
        assert told.count("\n") == lines
    assert "not counted in the estimate: it reads like °F taken for °C" in told
