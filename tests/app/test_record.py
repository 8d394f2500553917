"""Record by keys: what is told together opens, words filter, a day is chosen, signing is looked at first."""

from pathlib import Path

import pytest
from textual.widgets import Input

from board.app.app import BoardApp
from board.app.screens.record import RecordScreen
from board.ledger import read, write
from board.ledger.open import Ledger
from tests.app.boards import board, night_ledger
from tests.app.house_fixture import DAY, at
from tests.app.pictures import SIZES

SMALL = SIZES[0]


def sold(path: Path) -> Ledger:
    """The fixture's night with three sales at lunch."""
    ledger = night_ledger(path)
    for clock, portions in (("11:10", 4), ("11:40", 5), ("12:05", 6)):
        moment = at(clock)
        write.sell(ledger, DAY, "lunch", "brisket-plate", portions, who="bram", at=moment, noted_at=moment)
    return ledger


def says(app: BoardApp) -> list[str]:
    """What the lines of the record say."""
    assert isinstance(app.view, RecordScreen)
    return [row.cells[1].text for row in app.view.panel("lines").table.rows]


@pytest.mark.parametrize("size", SIZES)
async def test_enter_opens_and_closes_what_is_told_together(size: tuple[int, int], tmp_path: Path) -> None:
    """Sales of an item are one line; Enter shows each under it, and Enter again closes it."""
    app = board(sold(tmp_path / "board.db"), now=at("12:10"))
    async with app.run_test(size=size) as pilot:
        await pilot.press("5")
        assert says(app)[0] == "▸ 15 brisket sold in 3 sales since 11:10"
        await pilot.press("enter")
        assert says(app)[:4] == [
            "▾ 15 brisket sold in 3 sales since 11:10",
            "  6 brisket sold",
            "  5 brisket sold",
            "  4 brisket sold",
        ]
        await pilot.press("enter")
        assert not says(app)[1].startswith("  ")


async def test_words_filter_the_lines_and_escape_shows_all(tmp_path: Path) -> None:
    """f lets words be typed; the lines follow each letter; Esc shows everything again."""
    app = board(sold(tmp_path / "board.db"), now=at("12:10"))
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("5")
        before = says(app)
        await pilot.press("f", *"ash ho")
        assert says(app) == []
        await pilot.press(*["backspace"] * 6, *"south hot", "enter")
        assert says(app) == ["“South ran hot after three”"]
        assert app.focused is app.view.panel("lines")
        await pilot.press("escape")
        assert says(app) == before
        assert not app.view.query_one("#filter", Input).display


async def test_filter_takes_any_text(tmp_path: Path) -> None:
    """Brackets and other odd letters are words like any other."""
    app = board(sold(tmp_path / "board.db"), now=at("12:10"))
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("5", "f")
        app.view.query_one("#filter", Input).value = "[bold] [/x] \x1b[31m"
        await pilot.pause()
        assert says(app) == []


async def test_days_stand_over_their_lines_and_enter_shows_one(tmp_path: Path) -> None:
    """Yesterday has a heading; Enter on it shows that day only."""
    app = board(sold(tmp_path / "board.db"), now=at("12:10"))
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("5")
        assert says(app).count("yesterday") == 1
        panel = app.view.panel("lines")
        panel.choose("day:2026-12-18")
        await pilot.press("enter")
        assert not any("brisket sold" in line for line in says(app))
        assert any("lit to" in line or "lit" in line for line in says(app))


async def test_signing_shows_what_is_signed_and_waits_for_enter(tmp_path: Path) -> None:
    """s tells the day, its entries and people; Esc leaves it unsigned, Enter signs."""
    app = board(sold(tmp_path / "board.db"), now=at("12:10"))
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("5", "s")
        told = " ".join(str(one.render()) for one in app.screen.query(".question"))
        assert "Saturday 19 December: " in told
        assert "Tomas signs that this was looked over" in told
        await pilot.press("escape", "s", "escape")
        assert not read.entries(app.session.ledger, kinds=["signature"])
        await pilot.press("s", "enter")
        await pilot.pause()
        assert len(read.entries(app.session.ledger, kinds=["signature"])) == 1
