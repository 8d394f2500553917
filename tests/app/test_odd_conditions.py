"""What goes wrong around the board: it says in a line what to do, and nothing that was typed is lost."""

import shutil
import sqlite3
from pathlib import Path

import pytest
from textual.events import Paste
from textual.pilot import Pilot
from textual.widgets import Input, Static

from board.app import app as board_app
from board.app.app import BoardApp
from board.app.dialogs.ask import Ask
from board.app.harmless import MOST_PASTED
from board.errors import LedgerError
from board.ledger import read
from board.ledger.open import Ledger
from board.views.facts import Facts
from tests.app.boards import board, night_ledger
from tests.app.pictures import pressed, screen_text, settled

DIALOGS = ("n", "T", "m", "a", "slash", "h", "f4", "2,m", "2,p,enter", "3,b", "4,enter", "5,b")


async def note(app: BoardApp, pilot: Pilot[None], text: str) -> None:
    """Type a note and press Enter."""
    await pilot.press("n")
    app.screen.query_one(Input).value = text
    await pilot.press("enter")
    await pilot.pause()


def notes(app: BoardApp) -> list[str]:
    """The notes that are in the ledger now."""
    return [entry.data["text"] for entry in read.entries(app.session.ledger) if entry.kind == "note"]


def refused(app: BoardApp) -> str:
    """Why the open dialog does not take what was typed."""
    return str(app.screen.query_one(".wrong", Static).content)


async def test_a_busy_ledger_keeps_what_was_typed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another program writes, a note stays in its dialog with a word why; Enter again records it."""
    monkeypatch.setattr(board_app, "PATIENCE_SECONDS", 0.05)
    with night_ledger(tmp_path / "board.db") as ledger:
        other = sqlite3.connect(tmp_path / "board.db", isolation_level=None)
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            other.execute("BEGIN IMMEDIATE")
            await note(app, pilot, "the ice machine is out")
            assert isinstance(app.screen, Ask)
            assert "stayed busy; wait a moment" in refused(app)
            other.execute("ROLLBACK")
            await pilot.press("enter")
            await settled(app, pilot)
            assert "the ice machine is out" in notes(app)
            assert not isinstance(app.screen, Ask)
        other.close()


async def test_what_is_recorded_and_cannot_be_shown_is_not_asked_for_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the ledger cannot be read once a note was recorded, its dialog goes, and the line says both."""

    def unreadable() -> Facts:
        raise LedgerError("the ledger could not be read by the disk")

    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            said: list[str] = []
            with monkeypatch.context() as failing:
                failing.setattr(app.session, "facts", unreadable)
                failing.setattr(app, "say", lambda sentence, _: said.append(sentence))
                await note(app, pilot, "the ice machine is out")
            assert not isinstance(app.screen, Ask)
            assert said[0].startswith("it is recorded, but cannot be shown")
            assert notes(app).count("the ice machine is out") == 1


def test_nobody_looks_at_a_still_screen_for_long() -> None:
    """The board waits for another writer less long than a person doubts that it still runs."""
    assert board_app.PATIENCE_SECONDS <= 2


async def test_a_note_too_long_can_be_shortened(tmp_path: Path) -> None:
    """What is longer than is kept is refused in its dialog, where it can be shortened.

    Its words cannot all be seen, so they are not selected: a key must not take away what nobody sees.
    """
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await note(app, pilot, "x" * 501)
            assert "up to 500 are kept" in refused(app)
            await pilot.press("backspace", "enter")
            await settled(app, pilot)
            assert "x" * 500 in notes(app)


async def test_nothing_is_written_to_a_ledger_that_was_taken_away(tmp_path: Path) -> None:
    """A ledger whose folder is deleted is missed at once, and no entry is taken for recorded."""
    place = tmp_path / "there"
    place.mkdir()
    with night_ledger(place / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            shutil.rmtree(place)
            app.keep_up()
            await pilot.pause()
            told = " ".join(screen_text(app).split())
            assert "taken away or replaced" in told
            assert "leave with q and open the board again" in told
            await note(app, pilot, "the ice machine is out")
            assert isinstance(app.screen, Ask)
            assert "the ice machine is out" not in notes(app)
            await pressed(app, pilot, ["escape", *"1234505", "slash", *"ham"])
            assert app.is_running


async def test_a_ledger_that_was_put_back_is_gone_on_with(tmp_path: Path) -> None:
    """A ledger moved away and back is the same one, and written to as before."""
    path = tmp_path / "board.db"
    with night_ledger(path) as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            path.rename(tmp_path / "away.db")
            await note(app, pilot, "the ice machine is out")
            assert isinstance(app.screen, Ask)
            (tmp_path / "away.db").rename(path)
            await pilot.press("enter")
            await settled(app, pilot)
            assert "the ice machine is out" in notes(app)


async def test_every_dialog_lives_through_a_window_of_one_cell(tmp_path: Path) -> None:
    """A window made as small as can be and large again, whatever is open in it, is drawn within its edges."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            for keys in DIALOGS:
                await pressed(app, pilot, keys.split(","))
                for size in ((1, 1), (80, 24)):
                    await pilot.resize_terminal(*size)
                    await pilot.pause()
                assert all(len(line) <= 80 for line in screen_text(app).splitlines())
                await pressed(app, pilot, ["escape", "escape", "1"])


async def test_a_board_whose_folder_is_gone_shows_its_settings_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Opened by the name of a file in the folder that one stood in, which somebody deleted."""
    (tmp_path / "house").mkdir()
    monkeypatch.chdir(tmp_path / "house")
    with night_ledger(Path("board.db")) as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            shutil.rmtree(tmp_path / "house")
            await pilot.press("f4")
            await pilot.pause()
            assert "board.db" in screen_text(app)
        with pytest.raises(LedgerError, match="was taken away"):
            Ledger(Path("board.db"))


async def test_a_whole_file_that_is_pasted_stops_nothing(tmp_path: Path) -> None:
    """Its beginning stands in the line, is refused as too long, and can be put right."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await pilot.press("n")
            app.post_message(Paste("wood" * 200_000))
            await pilot.pause()
            assert len(app.screen.query_one(Input).value) == MOST_PASTED
            await pilot.press("enter")
            await pilot.pause()
            assert "up to 500 are kept" in refused(app)
