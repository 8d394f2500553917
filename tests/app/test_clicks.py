"""Everything by mouse or touch: the opening crew's round without a single key."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.events import Click, MouseDown, MouseMove, MouseUp
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.app.dialogs.ask import Ask
from board.app.dialogs.guide import Guide
from board.app.dialogs.temperature import TemperatureDialog
from board.app.keys import EVERYWHERE, SCOPES
from board.app.screens.opening import OpeningScreen
from board.app.screens.record import RecordScreen
from board.app.widgets.hint import lines_of
from board.ledger import read
from board.ledger.open import Ledger
from board.ledger.state import LoadStage
from tests.app.boards import board, night_ledger
from tests.app.house_fixture import DAY
from tests.app.pictures import screen_text, settled

SIZES = ((80, 24), (120, 36), (200, 60))


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The ledger after the night."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


def place(app: BoardApp, text: str, *, last: bool = False) -> tuple[int, int]:
    """Where a text stands on the screen."""
    lines = list(enumerate(screen_text(app).splitlines()))
    for y, line in reversed(lines) if last else lines:
        if text in line:
            return line.index(text), y
    raise AssertionError(f"{text} is not on the screen:\n{screen_text(app)}")


async def click(app: BoardApp, pilot: Pilot[None], text: str, *, last: bool = True, times: int = 1) -> None:
    """Press what says that, the lowest of its kind."""
    assert await pilot.click(offset=place(app, text, last=last), times=times)
    await settled(app, pilot)


def stage(ledger: Ledger, load: str) -> LoadStage:
    """Where a load of Saturday stands."""
    return next(state.stage for state in read.load_states(ledger, DAY) if state.id == load)


@pytest.mark.parametrize("size", SIZES)
async def test_an_opening_crew_s_round_by_presses_alone(size: tuple[int, int], ledger: Ledger) -> None:
    """Mark a step, take a reading, take it back, sign the handover: no key is pressed."""
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await click(app, pilot, "pull 6 shoulders", last=False, times=2)
        assert stage(ledger, "sat-shoulder") is LoadStage.PULLED

        await does(app, pilot, "temperature")
        assert isinstance(app.screen, TemperatureDialog)
        for digit in "93":
            x, y = place(app, "← del")
            keys = screen_text(app).splitlines()[y]
            assert await pilot.click(offset=(keys.rindex(digit, 0, x), y))
        await click(app, pilot, "Enter records")
        assert read.entries(ledger)[-1].data["temperature_c"] == pytest.approx(93)

        await does(app, pilot, "undo")
        assert read.entries(ledger)[-1].kind == "undo"

        await does(app, pilot, "handover")
        await click(app, pilot, "Enter signs")
        assert read.entries(ledger)[-1].kind == "handover"


async def does(app: BoardApp, pilot: Pilot[None], id: str) -> None:
    """Press an act's word at the foot, or else the word that leads to all, and the act there."""
    act = next(act for acts in SCOPES.values() for act in acts if act.id == id)
    word = f"{act.shown_key} {act.word}"
    if word in screen_text(app).splitlines()[-1]:
        await click(app, pilot, word)
        return
    await click(app, pilot, ": more")
    assert isinstance(app.screen, Guide)
    for _ in range(20):
        if f" {act.word} " not in screen_text(app):
            x, y = place(app, "│  … ", last=True)
            await pilot.click(offset=(x + 4, y))
            await settled(app, pilot)
    await click(app, pilot, f" {act.word} ", last=False)


@pytest.mark.parametrize("view", ["tomorrow", "service", "batches", "record", "opening"])
@pytest.mark.parametrize("size", SIZES)
async def test_every_view_is_a_press_away(size: tuple[int, int], view: str, ledger: Ledger) -> None:
    """A view's name at the foot, or in the list that the foot leads to, goes there."""
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        act = next(act for act in EVERYWHERE if act.id == f"view-{view}")
        word = f"{act.shown_key} {act.word}"
        if word in screen_text(app).splitlines()[-1]:
            await click(app, pilot, word)
        else:
            await click(app, pilot, "1–5 views")
            await click(app, pilot, f"  {act.word} ", last=False)
        assert view == app.view.NAME


async def test_the_second_half_of_a_double_click_elsewhere_marks_nothing(ledger: Ledger) -> None:
    """A list closed by a first press leaves the second to what lies below, where it only chooses a line."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        marked = read.data_version(ledger)
        panel = app.view.panel("next")
        panel.post_message(Click(panel, 8, 2, 0, 0, 1, False, False, False, chain=2))
        await settled(app, pilot)
        assert panel.cursor == 1
        assert read.data_version(ledger) == marked
        panel.post_message(Click(panel, 8, 2, 0, 0, 1, False, False, False, chain=2))
        await settled(app, pilot)
        assert read.data_version(ledger) != marked


async def test_a_finger_at_the_foot_opens_what_it_names(ledger: Ledger) -> None:
    """A finger is down and up at once, as a browser tells it: the dialog that it opens is not left by it."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        x, y = place(app, "t temperature", last=True)
        for kind in (MouseMove, MouseDown, MouseUp):
            button = 0 if kind is MouseMove else 1
            app.post_message(kind(None, x, y, 0, 0, button, False, False, False, x, y))
        await settled(app, pilot)
        await pilot.pause(0.2)
        assert isinstance(app.screen, TemperatureDialog)


async def test_a_press_beside_a_dialog_leaves_it(ledger: Ledger) -> None:
    """Beside the dialog is the view; pressing there goes back to it, unless something is typed."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await pilot.press("n")
        await pilot.click(offset=(2, 2))
        assert isinstance(app.screen, OpeningScreen)
        await pilot.press("n", "x")
        await pilot.click(offset=(2, 2))
        assert isinstance(app.screen, Ask)


async def test_a_press_in_help_does_what_its_line_says(ledger: Ledger) -> None:
    """A line of help is not only read: pressed, it does its act."""
    app = board(ledger)
    async with app.run_test(size=(120, 70)) as pilot:
        await settled(app, pilot)
        await pilot.press("question_mark")
        await click(app, pilot, "Record")
        assert isinstance(app.screen, RecordScreen)


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("↑ ↓ another place   Enter records", ["up", "down", "enter"]),
        ("c put right   d say what was done", ["c", "d"]),
        ("F4 shows them   told only", ["f4", ""]),
        ("", [""]),
    ],
)
def test_a_hint_s_keys_are_found_in_its_words(text: str, keys: list[str]) -> None:
    """What begins with a key can be pressed; its words belong to it."""
    pieces = [piece for line in lines_of(text, 200) for piece in line if piece.text.strip() or not text]
    assert [piece.key for piece in pieces] == keys
    assert "".join(piece.text for line in lines_of(text, 200) for piece in line) == text
