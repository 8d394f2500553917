"""Signing on the board with a PIN: masked, asked last, a wrong one keeps what was typed."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual.events import Key
from textual.pilot import Pilot
from textual.widgets import Input

from board.app.app import BoardApp
from board.app.dialogs.handover import HandoverDialog
from board.app.dialogs.pin import PinDialog
from board.ledger import read, scrypt, write
from board.ledger.scrypt import Cost
from tests.app.boards import NOW, board, night_ledger
from tests.app.pictures import SIZES

PIN = "pit 4711"


@pytest.fixture(autouse=True)
def cheap(monkeypatch: pytest.MonkeyPatch) -> None:
    """New PINs are hashed in no time."""
    monkeypatch.setattr(scrypt, "COST", Cost(2, 1, 1))


def asking(path: Path, *, pin: bool = True) -> BoardApp:
    """A board of a house that asks for a PIN, with that of whoever is at the keys set."""
    app = board(night_ledger(path))
    app.session.house = replace(app.session.house, signs_with_pin=True)
    if pin:
        write.set_pin(app.session.ledger, PIN, who=app.session.who, at=NOW, noted_at=NOW)
    return app


def signed(app: BoardApp, kind: str) -> list[object]:
    """The PINs that entries of a kind were signed with, of those in force."""
    found = read.entries(app.session.ledger, kinds=(kind,))
    return [entry.data.get("pin") for entry in found if not entry.undone]


async def give(pilot: Pilot[None], pin: str) -> None:
    """Type a PIN and wait until it was looked at."""
    await pilot.press(*("space" if c == " " else c for c in pin), "enter")
    for _ in range(20):
        await pilot.pause(0.02)


@pytest.mark.parametrize("size", SIZES[:2])
async def test_the_record_is_signed_with_a_pin(size: tuple[int, int], tmp_path: Path) -> None:
    """s, Enter, then the PIN, which shows as dots; a wrong one is told and signs nothing."""
    app = asking(tmp_path / "board.db")
    async with app.run_test(size=size) as pilot:
        await pilot.press("5", "s", "enter")
        assert isinstance(app.screen, PinDialog)
        await give(pilot, "wrong one")
        assert "that PIN is wrong" in str(app.screen.query_one(".wrong").render())
        assert signed(app, "signature") == []
        await pilot.press(*"pit")
        shown = "\n".join(strip.text for strip in app.screen._compositor.render_strips())
        assert ("•••" in shown, "pit" in app.screen.query_one(Input).render_line(0).text) == (True, False)
        await give(pilot, PIN.removeprefix("pit"))
        assert len(signed(app, "signature")) == 1
        assert signed(app, "signature") != [None]
        assert app.told is not None
        assert "1 wrong PIN was tried before" in app.told.text


@pytest.mark.parametrize("pin", [PIN, "wrong one"])
async def test_a_pin_that_is_left_while_it_is_looked_at_signs_nothing(pin: str, tmp_path: Path) -> None:
    """Esc comes before the answer: the board goes on as it was."""
    app = asking(tmp_path / "board.db")
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.press("5", "s", "enter")
        app.screen.query_one(Input).value = pin
        for key in ("enter", "escape"):
            app.post_message(Key(key, None))
        for _ in range(20):
            await pilot.pause(0.02)
        assert app.is_running
        assert not isinstance(app.screen, PinDialog)
        assert signed(app, "signature") == []


async def test_nothing_of_a_pin_goes_to_the_clipboard(tmp_path: Path) -> None:
    """Copy and cut give nothing away."""
    app = asking(tmp_path / "board.db")
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.press("5", "s", "enter", *"secret", "ctrl+a", "ctrl+c", "ctrl+x")
        assert app.clipboard == ""


async def test_a_handover_is_signed_with_a_pin_and_keeps_what_was_typed(tmp_path: Path) -> None:
    """Esc from the PIN leads back to the words; the PIN signs them."""
    app = asking(tmp_path / "board.db")
    before = len(signed(app, "handover"))
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.press("h", *"wood", "enter")
        assert isinstance(app.screen, PinDialog)
        await pilot.press("escape")
        assert isinstance(app.screen, HandoverDialog)
        assert app.screen.query_one("#note", Input).value == "wood"
        await pilot.press("enter")
        await give(pilot, PIN)
        assert not isinstance(app.screen, HandoverDialog)
        last = read.last_handover(app.session.ledger)
        assert last is not None
        assert (last.data["text"], last.data["pin"] > 0) == ("wood", True)
        assert len(signed(app, "handover")) == before + 1


async def test_what_was_signed_is_taken_back_with_a_pin(tmp_path: Path) -> None:
    """u asks for it; Esc leaves the signature."""
    app = asking(tmp_path / "board.db")
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.press("5", "s", "enter")
        await give(pilot, PIN)
        await pilot.press("u", "escape")
        assert len(signed(app, "signature")) == 1
        await pilot.press("u")
        assert isinstance(app.screen, PinDialog)
        await give(pilot, PIN)
        assert signed(app, "signature") == []


async def test_who_has_no_pin_is_told_and_signs_nothing(tmp_path: Path) -> None:
    """The line says which command sets one; a handover keeps its words."""
    app = asking(tmp_path / "board.db", pin=False)
    before = len(signed(app, "handover"))
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.press("h", *"wood", "enter")
        assert isinstance(app.screen, HandoverDialog)
        assert "board pin set" in str(app.screen.query_one(".wrong").render())
        await pilot.press("escape", "5", "s", "enter")
        await pilot.pause()
        assert (signed(app, "signature"), len(signed(app, "handover"))) == ([], before)
