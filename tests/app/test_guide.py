"""Help, first steps and everything that can be done: true of the keys there are, and quick to narrow."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.app import keys
from board.app.dialogs.guide import Guide
from board.app.keymap import Keymap
from board.app.matching import nearest, rank
from board.app.screens.load import LoadScreen
from board.ledger import read
from board.views.guidance import first_steps, read_data, words
from tests.app.boards import board, night_ledger
from tests.app.pictures import screen_text, settled

VIEWS = tuple(name for name in keys.SCOPES if name not in keys.SHARED)


@pytest.mark.parametrize("view", VIEWS)
def test_first_steps_name_keys_of_their_view(view: str) -> None:
    """Every key named in a view's first steps is that of an act one has there."""
    there = {act.id for act in (*keys.SCOPES[view], *keys.EVERYWHERE)}
    lines = read_data("first_steps")[view]["lines"]
    assert {id for line in lines for id in re.findall(r"\{([a-z-]+)\}", line)} <= there
    assert not any("{" in line for line in first_steps(view, Keymap().key))


def test_first_steps_tell_changed_keys() -> None:
    """A house that changed a key reads the changed one."""
    steps = " ".join(first_steps("opening", Keymap.of({"undo": "f9"}).key))
    assert "F9 takes back the last thing you entered" in steps


def test_every_word_is_told_in_sentences() -> None:
    """Words of the trade are explained in whole sentences."""
    assert all(says.endswith(".") for says in words().values())
    assert {"stall", "spare", "chance", "salometer"} <= set(words())


@pytest.mark.parametrize("view", ["1", "2", "3", "4", "5", "0"])
@pytest.mark.parametrize("size", [(60, 20), (80, 24), (200, 60)])
async def test_help_opens_and_closes_in_every_view(view: str, size: tuple[int, int], tmp_path: Path) -> None:
    """? shows the keys of the view, Tab its first steps and words, and Esc goes back."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=size) as pilot:
            await settled(app, pilot)
            await pilot.press(view)
            await settled(app, pilot)
            await pilot.press("question_mark")
            await pilot.pause()
            assert "Esc leaves" in screen_text(app)
            await pilot.press("tab", *"stall", "tab")
            await pilot.pause()
            assert "Esc leaves" in screen_text(app)
            await pilot.press("escape")
            assert not isinstance(app.screen, Guide)


async def test_letters_and_enter_do_any_act(tmp_path: Path) -> None:
    """: and the letters of an act's name find it, and Enter does it."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await pilot.press("enter")
            await settled(app, pilot)
            await pilot.press("ctrl+p", *"undo", "enter")
            await settled(app, pilot)
            assert read.entries(ledger)[-1].kind == "undo"


async def test_what_cannot_be_done_says_why_and_is_not_done(tmp_path: Path) -> None:
    """An act that can do nothing now stands there with its reason, and Enter leaves the list open."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 40)) as pilot:
            await settled(app, pilot)
            await pilot.press("2", "colon", *"commit")
            await pilot.pause()
            assert "not now: there is no draft" in screen_text(app)
            await pilot.press("enter")
            assert isinstance(app.screen, Guide)


async def test_a_load_is_a_few_letters_away(tmp_path: Path) -> None:
    """Loads stand in the list of everything too, and open their page."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 40)) as pilot:
            await settled(app, pilot)
            await pilot.press("colon", *"35 rib", "enter")
            await settled(app, pilot)
            assert isinstance(app.screen, LoadScreen)


def test_names_go_before_what_is_said_of_them() -> None:
    """A thing called so comes before one only said to be so, and letters in order come last."""
    things = [("said", "move", "try an undo"), ("called", "undo", ""), ("letters", "under dough", "")]
    assert nearest("undo", things) == ["called", "said", "letters"]
    assert rank("zebra", "undo") is None


@given(st.text(max_size=30), st.text(max_size=30))
def test_any_text_can_be_looked_for_in_any(typed: str, name: str) -> None:
    """Whatever is typed gives an answer, and what is typed whole is found."""
    assert rank(typed, name) in (None, 0, 1, 2, 3)
    assert rank(name, name) == 0


async def test_at_80_by_24_a_page_of_keys_has_a_line_for_each_and_tells_the_chosen_one_whole(
    tmp_path: Path,
) -> None:
    """A dozen keys stand in sight; the whole sentence of one is read by choosing it."""
    whole = "Tick steps that are due or come next and mark them all at once"
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("question_mark")
            await pilot.pause()
            before = screen_text(app)
            await pilot.press("down")
            await pilot.pause()
            after = " ".join(" ".join(line.strip(" │") for line in screen_text(app).splitlines()).split())
    assert "handover" in before
    assert "undo" in before
    assert whole not in " ".join(before.split())
    assert "Tick steps that are due or come next" in after
