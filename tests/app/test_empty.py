"""A ledger in which nothing has happened yet, and one that a mistake was made in."""

from pathlib import Path

import pytest

from board.ledger import write
from board.ledger.open import create_ledger
from board.sheets.sheet import BUILDERS, sheet
from tests.app.boards import NOW, board, night_ledger
from tests.app.house_fixture import ZONE, house
from tests.app.pictures import drawn, screen_text, settled

KEYS = (
    "enter",
    "t",
    "escape",
    "n",
    "escape",
    "u",
    "w",
    "escape",
    "slash",
    "escape",
    "question_mark",
    "escape",
)
OF_VIEWS = {
    "1": ("h", "escape", "tab", "enter"),
    "2": ("p", "enter", "escape", "l", "a", "c", "left", "right", "plus", "minus", "right_square_bracket"),
    "3": ("s", "escape", "space", "o"),
    "4": ("x",),
    "5": ("k", "k", "k"),
}


@pytest.mark.parametrize("view", OF_VIEWS)
async def test_no_key_crashes_an_empty_board(view: str, tmp_path: Path) -> None:
    """Every key of every view is harmless when nothing is planned."""
    with create_ledger(tmp_path / "board.db", "Cinder Lane", ZONE, tmp_path) as ledger:
        found = await drawn(board(ledger), (80, 24), [view, *OF_VIEWS[view], *KEYS])
    assert "Cinder Lane" in found


@pytest.mark.parametrize("view", BUILDERS)
def test_every_sheet_of_an_empty_ledger_says_so(view: str, tmp_path: Path) -> None:
    """A sheet of nothing still names the house and says that there is nothing."""
    with create_ledger(tmp_path / "board.db", "Cinder Lane", ZONE, tmp_path) as ledger:
        text = sheet(ledger, house(), view, NOW)
    assert "Cinder Lane" in text
    assert any(word in text for word in ("Nothing", "No ", "no service"))


async def test_what_the_ledger_refuses_is_told_in_a_sentence(tmp_path: Path) -> None:
    """A mark that cannot be is told above the keys, and the board goes on."""
    with night_ledger(tmp_path / "board.db") as ledger:
        write.mark_load(ledger, "sat-shoulder", "lost", who="ines", at=NOW, noted_at=NOW)
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            app.record(lambda: _pull_lost(app))
            await pilot.pause()
            assert "sat-shoulder was marked lost" in screen_text(app)


def _pull_lost(app: object) -> object:
    from board.app import acting  # noqa: PLC0415 - only this refusal needs it

    return acting.mark_step(app.session, "2026-12-19/s-pull-shoulder")  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", [(60, 20), (79, 24), (80, 23), (119, 35), (240, 80)])
async def test_odd_sizes_are_drawn(size: tuple[int, int], tmp_path: Path) -> None:
    """Any size from the least on is drawn without running over its edge."""
    with night_ledger(tmp_path / "board.db") as ledger:
        for key in "12345":
            found = await drawn(board(ledger), size, [key])
            assert all(len(line) <= size[0] for line in found.splitlines())


async def test_resizing_keeps_the_board_whole(tmp_path: Path) -> None:
    """The board follows its terminal from large to tiny and back."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            before = screen_text(app)
            for size in ((40, 10), (80, 24), (200, 60), (120, 36)):
                await pilot.resize_terminal(*size)
                await pilot.pause()
            assert screen_text(app) == before
