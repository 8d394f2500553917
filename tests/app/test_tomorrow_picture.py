"""The picture of a day on the screen: choosing, panning, stretching, reading on, comparing."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from textual.events import MouseScrollDown, MouseScrollUp

from board.app.widgets.panel import Panel
from board.app.widgets.timeline import TimelineView
from board.ledger.open import Ledger
from tests.app.boards import board, night_ledger
from tests.app.house_fixture import DAY, plan
from tests.app.pictures import screen_text, settled

SIZES = [(80, 24), (120, 36), (200, 60)]


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The ledger after the night."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


@pytest.mark.parametrize("size", SIZES)
async def test_tab_goes_from_pit_to_pit(ledger: Ledger, size: tuple[int, int]) -> None:
    """Each Tab chooses the first load of the next pit, which stands in sight by name and between arrows."""
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await pilot.press("2", "left_square_bracket")
        await settled(app, pilot)
        for name in ("6 shoulders", "60 chicken halves", "4 hams", "12 briskets"):
            await pilot.press("tab")
            await settled(app, pilot)
            shown = screen_text(app)
            assert any(name in line and "▶" in line for line in shown.splitlines())


async def test_hours_are_stretched_moved_and_fitted_again(ledger: Ledger) -> None:
    """After plus and right the head tells other hours, and what is earlier is counted; Home shows all."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("2", "left_square_bracket")
        await settled(app, pilot)
        whole = screen_text(app)
        await pilot.press(*["plus"] * 8, *["right"] * 25)
        await settled(app, pilot)
        shown = screen_text(app)
        assert "earlier" in shown
        assert "12 briskets" in shown  # the chosen load, told at the edge it lies beyond
        await pilot.press("home")
        await settled(app, pilot)
        assert screen_text(app) == whole


async def test_the_wheel_stretches_and_with_shift_moves(ledger: Ledger) -> None:
    """What the keys do to the hours the mouse does too."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await pilot.press("2", "left_square_bracket")
        await settled(app, pilot)
        line = app.screen.query_one(TimelineView)
        whole = screen_text(app)
        line.post_message(MouseScrollUp(line, 60, 4, 0, -1, 0, False, False, False))
        await settled(app, pilot)
        closer = screen_text(app)
        assert closer != whole
        line.post_message(MouseScrollDown(line, 60, 4, 0, 1, 0, True, False, False))
        await settled(app, pilot)
        assert screen_text(app) not in (closer, whole)
        line.post_message(MouseScrollDown(line, 60, 4, 0, 1, 0, False, False, False))
        await settled(app, pilot)
        assert screen_text(app) == whole


async def test_page_down_reads_on_in_the_account(ledger: Ledger) -> None:
    """Where the chain has no room for its last steps, page down shows them and page up goes back."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("2", "left_square_bracket")
        await settled(app, pilot)
        before = screen_text(app)
        assert "needed" not in before
        await pilot.press("pagedown", "pagedown")
        await settled(app, pilot)
        assert "needed" in screen_text(app)
        await pilot.press("pageup", "pageup")
        await settled(app, pilot)
        assert screen_text(app) == before


@pytest.mark.parametrize("size", SIZES)
async def test_a_draft_is_compared_load_by_load(ledger: Ledger, size: tuple[int, int]) -> None:
    """d shows where both plans have the load that moved, figures and sentences; d again, the account."""
    app = board(ledger)
    loads = tuple(
        replace(load, pit="south", load_at=load.load_at + timedelta(minutes=30))
        if load.id == "sat-ham"
        else load
        for load in plan().loads
    )
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        app.session.drafts[DAY] = replace(plan(), loads=loads, cost=plan().cost + 1)
        await pilot.press("2", "left_square_bracket", "d")
        await settled(app, pilot)
        shown = screen_text(app)
        assert "committed" in shown
        assert "draft" in shown
        assert "4 hams go on South" in " ".join(shown.split())
        assert "The whole day" in shown
        assert isinstance(app.focused, Panel)
        await pilot.press("d")
        await settled(app, pilot)
        assert "Why" in screen_text(app)


async def test_a_cursor_key_lays_nothing_out_that_it_does_not_change(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Choosing another load works the day's view out no second time."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await pilot.press("2", "left_square_bracket")
        await settled(app, pilot)
        worked: list[str] = []
        monkeypatch.setattr("board.app.screens.tomorrow.tomorrow", lambda *_, **__: worked.append("again"))
        await pilot.press("down", "down", "up", "right", "plus", "tab")
        await settled(app, pilot)
        assert worked == []
