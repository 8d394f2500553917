"""Any size at any time: dialogs fit the smallest screen, and what was chosen or typed outlives a resize."""

from pathlib import Path

import pytest
from textual.screen import ModalScreen
from textual.widgets import Input

from board.app.app import BoardApp
from board.app.clock import SetClock
from board.app.planner import plan
from board.app.session import Session
from board.app.widgets.panel import Panel
from board.commands.demo import HOUSE, demo_ledger
from board.house.files import read_house
from board.house.seeds import seed_house
from tests.app.boards import board, night_ledger
from tests.app.pictures import VIEWS, pressed, screen_text, settled

ASKED = {
    "temperature": "t",
    "temperatures": "T",
    "time": "n,l,a,t,e,enter,y",
    "note": "n",
    "who": "w",
    "find": "slash",
    "palette": "colon",
    "where-from": "i",
    "settings": "f4",
    "help": "question_mark",
    "alarms": "a",
    "handover": "h",
    "remedies": "tab,r",
    "move": "2,m",
    "commit": "2,g,c",
    "many": "m",
    "bulk": "3,b",
    "sell": "3,s",
    "weighing": "4,enter",
    "lists": "4,l",
    "discard": "4,end,x",
    "begin": "5,b",
    "record-line": "5,k,enter",
    "probe": "5,p",
}


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
@pytest.mark.parametrize("asked", ASKED)
async def test_every_dialog_fits_a_small_screen(asked: str, size: tuple[int, int], tmp_path: Path) -> None:
    """From 60 by 20 on a dialog stands wholly on the screen, and all that it is made of inside its frame."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=size) as pilot:
            await pressed(app, pilot, ASKED[asked].split(","))
            assert isinstance(app.screen, ModalScreen), screen_text(app)
            frame = app.screen.query_one(".dialog, .docked")
            assert app.screen.region.contains_region(frame.region)
            for part in frame.children:
                if part.display and part.region.area:
                    assert frame.region.contains_region(part.region), (part, screen_text(app))


@pytest.mark.parametrize("asked", ["temperatures", "handover"])
@pytest.mark.parametrize("height", [24, 31])
async def test_a_long_list_leaves_its_keys_in_sight(asked: str, height: int, tmp_path: Path) -> None:
    """On a busy house's day the line that names a dialog's keys is drawn at every height."""
    folder = seed_house(HOUSE)
    house = read_house(folder)
    ledger, now = demo_ledger(tmp_path / "board.db", house, folder, None)
    with ledger:
        app = BoardApp(Session(ledger, house, SetClock(now), plan))
        async with app.run_test(size=(80, height)) as pilot:
            await pressed(app, pilot, [ASKED[asked]])
            assert "Esc leaves" in screen_text(app)


@pytest.mark.parametrize("view", VIEWS)
async def test_a_view_outlives_every_size(view: str, tmp_path: Path) -> None:
    """Down to nearly nothing, up to a wall and back: nothing breaks, and it looks as before."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pressed(app, pilot, VIEWS[view].split(","))
            before = screen_text(app)
            for size in ((200, 60), (40, 10), (300, 90), (1, 1), (60, 20), (80, 24)):
                await pilot.resize_terminal(*size)
                await settled(app, pilot)
                assert all(len(line) <= size[0] for line in screen_text(app).splitlines())
            assert screen_text(app) == before


async def test_the_cursor_stays_through_a_screen_too_small(tmp_path: Path) -> None:
    """The chosen line is still chosen when the screen was too small to draw it and is not any more."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pressed(app, pilot, ["down", "down"])
            chosen = app.view.query_one("#next", Panel).chosen
            await pilot.resize_terminal(30, 8)
            await settled(app, pilot)
            assert "The board needs 60 by 20" in screen_text(app)
            await pilot.resize_terminal(80, 24)
            await settled(app, pilot)
            assert app.view.query_one("#next", Panel).chosen == chosen
            assert app.view.query_one("#next", Panel).has_focus


async def test_what_is_typed_stays_through_a_screen_too_small(tmp_path: Path) -> None:
    """A dialog with half a temperature in it stands as it was, and takes the rest."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pressed(app, pilot, ["t", "9"])
            for size in ((30, 8), (200, 60), (60, 20)):
                await pilot.resize_terminal(*size)
                await settled(app, pilot)
            await pilot.press("3")
            assert isinstance(app.screen, ModalScreen)
            assert app.screen.query_one(Input).value == "93"


async def test_no_cursor_blinks(tmp_path: Path) -> None:
    """Nothing on the board blinks: no line to type on has a cursor that does."""
    with night_ledger(tmp_path / "board.db") as ledger:
        for keys in ASKED.values():
            app = board(ledger)
            async with app.run_test(size=(80, 24)) as pilot:
                await pressed(app, pilot, keys.split(","))
                assert not any(line.cursor_blink for line in app.screen.query(Input)), keys
