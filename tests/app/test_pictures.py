"""The five views at three sizes, as text kept beside the tests."""

import os
from pathlib import Path

import pytest

from tests.app.boards import board, night_ledger
from tests.app.pictures import KEPT, SIZES, VIEWS, drawn

SMALL = (60, 20)
DIALOGS = {
    "temperature": "t",
    "help": "question_mark",
    "find": "slash",
    "handover": "h",
    "weighing": "4,enter",
}


@pytest.mark.parametrize("size", [*SIZES, SMALL], ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("view", VIEWS)
async def test_view_looks_as_kept(view: str, size: tuple[int, int], tmp_path: Path) -> None:
    """Each view is drawn at each size as its kept picture shows; BOARD_PICTURES=write keeps a new one."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = await drawn(board(ledger), size, VIEWS[view].split(","))
    compare(f"{view}-{size[0]}x{size[1]}.txt", found, size)


@pytest.mark.parametrize("dialog", DIALOGS)
async def test_dialog_looks_as_kept(dialog: str, tmp_path: Path) -> None:
    """Each dialog is drawn over the smallest usual screen as its kept picture shows."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = await drawn(board(ledger), (80, 24), DIALOGS[dialog].split(","))
    compare(f"dialog-{dialog}-80x24.txt", found, (80, 24))


def compare(name: str, found: str, size: tuple[int, int]) -> None:
    """The picture is the kept one, and nothing runs over its edge."""
    kept = KEPT / name
    if os.environ.get("BOARD_PICTURES") == "write":
        KEPT.mkdir(exist_ok=True)
        kept.write_text(found, encoding="utf-8")
    assert all(len(line) <= size[0] for line in found.splitlines())
    assert found == kept.read_text(encoding="utf-8")


async def test_too_small_a_screen_says_so(tmp_path: Path) -> None:
    """Below the least size the board says what it needs and draws nothing else."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = await drawn(board(ledger), (40, 12), [])
    assert "needs 60 by 20" in found
    assert "Do next" not in found
