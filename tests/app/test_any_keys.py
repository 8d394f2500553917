"""Keys pressed at random, at changing sizes."""

import random
from pathlib import Path

import pytest

from board.app import keys
from tests.app.boards import board, night_ledger
from tests.app.pictures import settled

GROUPS = (keys.EVERYWHERE, keys.OPENING, keys.TOMORROW, keys.SERVICE, keys.BATCHES, keys.RECORD, keys.LIST)
KEYS = sorted({key for group in GROUPS for act in group for key in act.keys.split(",")} - {"q"})
SIZES = ((80, 24), (120, 36), (60, 20), (40, 10), (200, 60))
PRESSED = 120


@pytest.mark.parametrize("seed", [1, 2])
async def test_no_run_of_keys_crashes_the_board(seed: int, tmp_path: Path) -> None:
    """Whatever is pressed in whatever order, the board goes on."""
    chance = random.Random(seed)
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            for _ in range(PRESSED):
                if chance.random() < 0.03:
                    await pilot.resize_terminal(*chance.choice(SIZES))
                await pilot.press(chance.choice([*KEYS, "escape", "7", "tab"]))
            assert app.is_running
