"""Where figures come from: every figure has a note, and the key that asks tells this line's own numbers."""

import re
from pathlib import Path

import pytest

from board.app.widgets.panel import Panel
from board.views import trade_notes
from board.views.table import Column, Row, Table
from board.views.text import Cell
from board.views.trade_notes import explained, note_of, notes
from tests.app.boards import board, night_ledger
from tests.app.house_fixture import at
from tests.app.pictures import VIEWS, screen_text, settled

_SOURCES = Path(trade_notes.__file__).parent.glob("*.py")
_COLUMN = re.compile(r"Column\((?:\"([^\"]*)\")?")
_NOTE = re.compile(r"note=\"([^\"]*)\"")


def without_note(panel: Panel) -> list[str]:
    """The columns of a list that show figures and have no note."""
    known = notes()
    table = panel.table
    found = []
    for place, column in enumerate(table.columns):
        cells = [row.cells[place].text for row in table.rows if place < len(row.cells)]
        if note_of(column) not in known and any(c.isdigit() for text in cells for c in text):
            found.append(f"{panel.id}, column {place} ({column.title or 'no heading'})")
    return found


@pytest.mark.parametrize("view", [*(view for view in VIEWS if view != "wall"), "2,p", "2,l"])
async def test_every_column_with_figures_has_a_note(view: str, tmp_path: Path) -> None:
    """No figure stands in a view without a note of where it comes from."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger, now=at("10:20"))
        async with app.run_test(size=(140, 50)) as pilot:
            await settled(app, pilot)
            for key in VIEWS.get(view, view).split(","):
                await pilot.press(key)
            await settled(app, pilot)
            panels = app.screen.query(Panel)
            assert panels
            missing = [lack for panel in panels for lack in without_note(panel)]
    assert missing == [], "give the column a note= of views/data/notes.toml, or write one"


def test_no_note_is_without_a_column() -> None:
    """Each note belongs to a column that some view shows."""
    text = "\n".join(path.read_text(encoding="utf-8") for path in _SOURCES)
    used = {title.replace(" ", "-") for title in _COLUMN.findall(text)} | set(_NOTE.findall(text))
    assert set(notes()) - used == set()


async def test_i_tells_where_a_load_s_time_comes_from(tmp_path: Path) -> None:
    """On a load that cooks the last reading, its time and the span are told in its own numbers."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 60)) as pilot:
            await settled(app, pilot)
            await pilot.press("tab", "down", "i")
            await settled(app, pilot)
            await pilot.press(*"ready")
            await pilot.pause()
            text = screen_text(app)
    assert "from the reading 91° at 05:30" in text
    assert "half of such cooks" in text


async def test_i_on_an_empty_list_says_what_to_choose(tmp_path: Path) -> None:
    """Where there is no line to ask about, the board says so."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger, now=at("10:20", 40))
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await pilot.press("3", "i")
            await pilot.pause()
            assert "choose a line first" in screen_text(app)


def test_two_figures_of_one_note_are_explained_once() -> None:
    """A row whose columns share a note does not tell it twice."""
    table = Table("", (Column(note="have"), Column(note="have")), (Row("a", (Cell("3"), Cell("4"))),))
    assert [one.figure for one in explained(table, table.rows[0], {})] == ["3"]
