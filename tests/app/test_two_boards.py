"""Two boards on one ledger show the same."""

from pathlib import Path

from board.app.app import POLL_SECONDS
from board.ledger import write
from tests.app.boards import NOW, board, night_ledger, second
from tests.app.pictures import screen_text, settled


async def test_one_board_shows_what_another_wrote(tmp_path: Path) -> None:
    """A mark made through another connection is on this board's screen at its next look at the ledger."""
    path = tmp_path / "board.db"
    with night_ledger(path) as ledger, second(path) as other:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            write.note(other, "the ice machine is out", who="wren", at=NOW, noted_at=NOW)
            await pilot.pause(POLL_SECONDS * 1.5)
            assert "the ice machine is out" in screen_text(app)


def test_a_board_looks_often_enough() -> None:
    """Two looks fit in a second, so that two boards agree within one."""
    assert POLL_SECONDS * 2 <= 1


async def test_two_boards_draw_the_same_after_the_same_events(tmp_path: Path) -> None:
    """After marks from both, both screens are the same."""
    path = tmp_path / "board.db"
    with night_ledger(path) as ledger, second(path) as other:
        one, two = board(ledger), board(other)
        async with one.run_test(size=(100, 30)) as first, two.run_test(size=(100, 30)) as last:
            await settled(one, first)
            await settled(two, last)
            await first.press("enter")
            one.told = None
            await first.pause(POLL_SECONDS * 1.5)
            await last.pause(POLL_SECONDS * 1.5)
            one.renew()
            await first.pause()
            assert screen_text(one) == screen_text(two)
