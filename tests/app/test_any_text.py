"""Nasty texts typed into whatever field the board offers: BOARD_TEXTS of them, or 80."""

import os
import random
from pathlib import Path
from typing import Any

import pytest
from textual.events import Paste
from textual.screen import ModalScreen
from textual.widgets import Input

from board.app.app import BoardApp
from tests.app.boards import board, night_ledger
from tests.app.pictures import settled
from tests.app.test_any_keys import KEYS, MOVES, press, quiet, stay
from tests.faults.fuzz.spoiling import Spoiler

SOUND = ("203 F", "95", "14 lb", "10 min", "05:30", "5 pm", "2026-12-19", "Wren", "12", "B-1", "rubbed early")
SEEDS = range(4)
TEXTS = int(os.environ.get("BOARD_TEXTS", "80")) // len(SEEDS)  # by each seed


@pytest.mark.parametrize("seed", SEEDS)
async def test_no_text_in_any_field_crashes_the_board(
    seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Huge numbers, controls, other scripts, odd dates: taken or told, and the board goes on."""
    monkeypatch.setattr(BoardApp, "action_quit", stay)
    chance = random.Random(seed)
    spoiler = Spoiler(chance, SOUND)
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            typed = 0
            while typed < TEXTS and app.is_running:
                if isinstance(app.focused, Input):
                    await type_into(app, app.focused, chance, spoiler)
                    typed += 1
                else:
                    await press(app, any_key(app, chance))
            assert app.is_running


def any_key(app: BoardApp, chance: random.Random) -> str:
    """A key that may open a field."""
    dialog: type[ModalScreen[Any]] = ModalScreen
    if isinstance(app.screen, dialog):
        return chance.choice(("enter", "enter", "tab", "down", "down", "escape"))
    return chance.choice((*KEYS, *MOVES, "enter", "down"))


async def type_into(app: BoardApp, field: Input, chance: random.Random, spoiler: Spoiler) -> None:
    """Put a text into a field in place of what it holds, and answer with it, or leave."""
    field.value = ""
    text = chance.choice(SOUND) if chance.random() < 0.3 else spoiler.text(chance.choice(SOUND))
    field.post_message(Paste(text))
    await quiet(app)
    await press(app, chance.choice(("enter", "enter", "enter", "tab", "down")))
    if chance.random() < 0.3:
        await press(app, "escape")
