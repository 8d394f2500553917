"""Keys pressed at random, in every view and dialog, at changing sizes: BOARD_KEYS of them, or 4,000."""

import asyncio
import os
import random
import string
from pathlib import Path
from typing import Any

import pytest
from textual.events import Key
from textual.pilot import Pilot
from textual.screen import ModalScreen
from textual.widgets import Input

from board.app import keys
from board.app.app import BoardApp
from board.app.dialogs.quick import Quick
from board.app.dialogs.temperatures import TemperaturesDialog
from board.app.widgets.promises import PromisesPanel
from board.ledger import read
from tests.app.boards import board, night_ledger
from tests.app.pictures import settled

ACTS = (*(act for group in keys.SCOPES.values() for act in group), *keys.TIMELINE)
KEYS = sorted({key for act in ACTS for key in act.keys.split(",")} - {"q"})
TYPED = [*string.ascii_letters, *string.digits, *string.digits, "[", "\\", "é", "中", "space", "full_stop"]
MOVES = ("up", "down", "left", "right", "tab", "shift+tab", "backspace", "delete", "home", "end")
SIZES = ((80, 24), (80, 24), (120, 36), (60, 20), (40, 10), (1, 1), (200, 60))
SEEDS = range(8)
PRESSED = int(os.environ.get("BOARD_KEYS", "4000")) // len(SEEDS)  # by each seed
STILL = 10  # turns of the loop in which nobody has anything to do

# what a person presses to say that something is so; any other key only looks, moves or asks
EVERYWHERE = {"enter", "u"}
CONFIRMING = {
    "opening": {"c"},
    "tomorrow": {"k"},
    "service": {"space", "o", "c"},
    "load": {"c"},
}
STRIKING = {"delete", "backspace", "minus"}  # an order off the promises
GOING_ON = {"up", "down"}  # take what is typed in a promise and go on
IN_DIALOGS: dict[type[ModalScreen[Any]], set[str]] = {
    TemperaturesDialog: {"f2"},
    Quick: set("123456789"),
}


@pytest.mark.parametrize("seed", SEEDS)
async def test_no_run_of_keys_crashes_the_board_or_writes_unasked(
    seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever is pressed, the board goes on, and only a key that says yes changes the ledger."""
    monkeypatch.setattr(BoardApp, "action_quit", stay)
    chance = random.Random(seed)
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await press_many(app, pilot, chance, PRESSED)
            assert app.is_running


async def stay(_: BoardApp) -> None:
    """What quit does here, where it would end the run: it is also among what can be done."""


async def press_many(app: BoardApp, pilot: Pilot[None], chance: random.Random, many: int) -> None:
    """Press keys, the terminal resized now and then; what is written must have been said yes to."""
    ledger = app.session.ledger
    written = read.data_version(ledger)
    for _ in range(many):
        if chance.random() < (0.05 if app.size.width > 120 else 0.01):
            await pilot.resize_terminal(*chance.choice(SIZES))
        key = any_key(app, chance)
        may_write, where = confirms(app, key), repr(app.screen)
        await press(app, key)
        now = read.data_version(ledger)
        assert now == written or may_write, f"{key} wrote in {where}: {read.entries(ledger)[-1]}"
        written = now


def any_key(app: BoardApp, chance: random.Random) -> str:
    """A key of the board; where something is asked, one that answers, types, moves or leaves."""
    if not isinstance(app.screen, ModalScreen) and not isinstance(app.focused, Input):
        return chance.choice([*KEYS, *KEYS, *MOVES, "enter", "enter"])
    others = (chance.choice(MOVES), chance.choice(KEYS), "enter", "enter", "escape")
    return chance.choice([*chance.choices(TYPED, k=5), *others])


def confirms(app: BoardApp, key: str) -> bool:
    """Whether a key may write where it is pressed; in a dialog Enter, and what its hint says records too."""
    screen, focused = app.screen, app.focused
    if isinstance(screen, ModalScreen):
        return key == "enter" or key in IN_DIALOGS.get(type(screen), ())
    if isinstance(focused, Input):
        return False
    also = CONFIRMING.get(app.view.NAME, set())
    if isinstance(focused, PromisesPanel):
        also = GOING_ON if focused.typing else STRIKING | also
    return key in EVERYWHERE | also


async def press(app: BoardApp, key: str) -> None:
    """Press a key and let all that follows from it happen, without the pauses a pilot makes."""
    app.post_message(Key(key, key if len(key) == 1 else None))
    await quiet(app)


async def quiet(app: BoardApp) -> None:
    """Wait until nobody has a message left to take."""
    still = 0
    while still < STILL and app.is_running:
        await asyncio.sleep(0)
        pumps = (app, *app.screen_stack, *app.screen.walk_children())
        still = 0 if any(pump.message_queue_size for pump in pumps) else still + 1
