"""What people type stays text: no markup, no escape codes, nothing that moves its neighbours."""

import asyncio
import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.events import Paste
from textual.widgets import Input

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.harmless import Harmless
from board.app.session import Session
from board.errors import LedgerError
from board.ledger import write
from board.sheets.sheet import BUILDERS, sheet
from board.views.text import inert
from tests.app.boards import NOW, board, night_ledger, no_planner, revised
from tests.app.house_fixture import house
from tests.app.pictures import drawn, pressed, screen_text

NASTY = (
    "[bold]cold[/bold] [/] [red",
    "\x1b[31mred\x1b[0m \x1b]0;title\x07",
    "[link=http://x]y[/link] $n {0} %s",
    "بريسكت \u202etxet\u202c 牛胸 🍖 e\u0301",
    "a\nb\tc\rd\x00e\u200b",
    "👩\u200d🍳 \u2067טקסט\u2069 \x85 \u0007" + "牛" * 240,
)
texts = st.one_of(st.sampled_from(NASTY), st.text(min_size=1, max_size=120))


@pytest.mark.parametrize("text", NASTY)
async def test_note_is_shown_as_typed_or_harmless(text: str, tmp_path: Path) -> None:
    """A note with brackets, escape codes or turned writing is drawn without crashing or colouring."""
    with night_ledger(tmp_path / "board.db") as ledger:
        write.note(ledger, text, who="wren", at=NOW, noted_at=NOW)
        for key in "12345":
            found = await drawn(board(ledger), (100, 30), [key])
            assert "\x1b" not in found
            assert "\u202e" not in found
        record = await drawn(board(ledger), (200, 60), ["5"])
        if "bold" in text:
            assert "“[bold]cold[/bold] [/] [red”" in record


@given(text=texts)
@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_sheet_carries_a_control_character(text: str) -> None:
    """Whatever is noted, every line of every sheet is printable and no wider than asked."""
    with tempfile.TemporaryDirectory() as place, night_ledger(Path(place) / "board.db") as ledger:
        try:
            write.note(ledger, text, who="wren", at=NOW, noted_at=NOW)
        except LedgerError:
            return
        for view in ("opening", "record"):
            for line in sheet(ledger, house(), view, NOW, width=60, reviser=revised).splitlines():
                assert all(character.isprintable() for character in line)


@pytest.mark.parametrize("key", ["n", "slash", "5,f"])
@pytest.mark.parametrize("text", NASTY)
async def test_what_is_pasted_is_one_harmless_line(key: str, text: str, tmp_path: Path) -> None:
    """Codes, turned writing and line breaks that are pasted reach neither the terminal nor a neighbour."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pressed(app, pilot, key.split(","))
            app.post_message(Paste(text))
            await pilot.pause()
            typed = app.focused
            assert isinstance(typed, Input)
            assert typed.value == inert(text)
            assert is_harmless(screen_text(app), 80)


@given(text=st.text(max_size=60))
def test_a_drawn_line_keeps_its_width_without_what_cannot_be_seen(text: str) -> None:
    """Whatever text a line is drawn from, it stays as wide and nothing of it is obeyed."""
    (drawn_as,) = Harmless().apply([Segment(text)], Color(0, 0, 0))
    assert drawn_as.text.isprintable()
    assert drawn_as.cell_length == Segment(text).cell_length


@pytest.mark.parametrize("text", NASTY)
async def test_what_is_put_right_begins_with_the_text_as_it_stands(text: str, tmp_path: Path) -> None:
    """A note with anything in it can be opened, read by itself and put right."""
    with night_ledger(tmp_path / "board.db") as ledger:
        write.note(ledger, text, who="wren", at=NOW, noted_at=NOW)
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pressed(app, pilot, ["5", "down", "enter"])
            assert is_harmless(screen_text(app), 80)
            await pressed(app, pilot, ["c"])
            assert is_harmless(screen_text(app), 80)
            await pressed(app, pilot, ["enter"])
            assert is_harmless(screen_text(app), 80)


@pytest.mark.parametrize("text", NASTY)
async def test_an_order_may_be_for_anybody(text: str, tmp_path: Path) -> None:
    """A name typed for an order stands in each of its questions and in the lists as plain text."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pressed(app, pilot, ["2", "p", "plus"])
            app.post_message(Paste(text))
            for keys in (["enter"], ["enter"], [*"12", "enter"], [*"1800", "enter"], ["3"], ["1"], ["5"]):
                await pressed(app, pilot, keys)
                assert is_harmless(screen_text(app), 80)


def is_harmless(screen: str, width: int) -> bool:
    """Whether every line holds only what can be seen, and none is wider than the screen."""
    lines = screen.splitlines()
    return all(line.isprintable() and cell_len(line) <= width for line in lines)


@given(name=texts)
@settings(max_examples=8, deadline=None)
def test_a_house_may_be_called_anything(name: str) -> None:
    """Names from house files are drawn in every view without being parsed."""
    named = house()
    cuts = {id: replace(cut, name=name) for id, cut in named.cuts.items()}
    pits = {id: replace(pit, name=name) for id, pit in named.pits.items()}
    people = {id: replace(person, name=name) for id, person in named.people.items()}
    odd = replace(named, name=name, cuts=cuts, pits=pits, people=people)
    with tempfile.TemporaryDirectory() as place, night_ledger(Path(place) / "board.db") as ledger:
        for view in BUILDERS:
            assert "\x1b" not in sheet(ledger, odd, view, NOW, reviser=revised)
        app = BoardApp(Session(ledger, odd, StoppedClock(NOW), no_planner, revised, "tomas"))
        assert "\x1b" not in asyncio.run(drawn(app, (80, 24), ["2", "left_square_bracket", "3", "1"]))


def test_a_fault_of_the_program_is_told_in_plain_letters(tmp_path: Path) -> None:
    """Colours would be letters by the time they reach the terminal, since no escape code does."""
    with night_ledger(tmp_path / "board.db") as ledger:
        assert board(ledger).error_console.color_system is None
