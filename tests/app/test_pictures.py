"""Every view at four sizes in three themes, as words and as a grid of colours kept beside the tests."""

import os
from pathlib import Path

import pytest

from board.ledger import write
from board.ledger.checking import About
from board.ledger.open import Ledger
from board.ledger.state import WatchKind
from board.ledger.watching import Watched
from tests.app.boards import board, night_ledger
from tests.app.house_fixture import at
from tests.app.pictures import KEPT, SIZES, VIEWS, drawn, pressed, screen_text, styled

DIALOGS = {
    "temperature": "t",
    "help": "question_mark",
    "find": "slash",
    "handover": "h",
    "weighing": "4,enter",
    "begin-a-watch": "5,b",
    "record-line": "5,k,enter",
}


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("view", VIEWS)
async def test_view_looks_as_kept(view: str, size: tuple[int, int], tmp_path: Path) -> None:
    """Each view at each size says and shows what its pictures do; BOARD_PICTURES=write keeps new ones."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=size) as pilot:
            await pressed(app, pilot, VIEWS[view].split(","))
            found, colours = screen_text(app), await styled(app, pilot)
    name = f"{view}-{size[0]}x{size[1]}.txt"
    compare(name, found, size)
    kept(f"styled/{name}", colours)


@pytest.mark.parametrize("dialog", DIALOGS)
async def test_dialog_looks_as_kept(dialog: str, tmp_path: Path) -> None:
    """Each dialog is drawn over the smallest usual screen as its kept picture shows."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = await drawn(board(ledger), (80, 24), DIALOGS[dialog].split(","))
    compare(f"dialog-{dialog}-80x24.txt", found, (80, 24))


PARTS = {"cooked": 2, "holding": 3, "failed": 6}  # by how often k is pressed


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("part", PARTS)
async def test_a_part_of_the_record_looks_as_kept(part: str, size: tuple[int, int], tmp_path: Path) -> None:
    """What a load that came off, a pan in the hot hold and a warm walk-in prove."""
    with night_ledger(tmp_path / "board.db") as ledger:
        record_morning(ledger)
        found = await drawn(board(ledger), size, ["5", *"k" * PARTS[part]])
    compare(f"record-{part}-{size[0]}x{size[1]}.txt", found, size)


def record_morning(ledger: Ledger) -> None:
    """The shoulders off, gravy in the hot hold, the walk-in too warm and what was done about it."""

    def said(clock: str) -> dict[str, object]:
        return {"who": "tomas", "at": at(clock), "noted_at": at(clock)}

    write.mark_step(ledger, "s-pull-shoulder", **said("05:30"))
    pan = write.start_watch(ledger, Watched(WatchKind.HOT_HOLD, "gravy"), **said("05:00")).subject
    write.take_reading(ledger, 53.0, place=pan, **said("05:35"))
    warm = write.take_reading(ledger, 9.0, place="walk-in", **said("05:36"))
    write.act_on(ledger, About(entry=warm.seq), "shut the door, 4° at 05:41", **said("05:41"))


def compare(name: str, found: str, size: tuple[int, int]) -> None:
    """The picture is the kept one, and nothing runs over its edge."""
    assert all(len(line) <= size[0] for line in found.splitlines())
    kept(name, found)


def kept(name: str, found: str) -> None:
    """The picture is the kept one, or is kept from now on."""
    place = KEPT / name
    if os.environ.get("BOARD_PICTURES") == "write":
        place.parent.mkdir(exist_ok=True)
        place.write_text(found, encoding="utf-8")
    assert found == place.read_text(encoding="utf-8")


async def test_too_small_a_screen_says_so(tmp_path: Path) -> None:
    """Below the least size the board says what it needs and draws nothing else."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = await drawn(board(ledger), (40, 12), [])
    assert "needs 60 by 20" in found
    assert "Do next" not in found
