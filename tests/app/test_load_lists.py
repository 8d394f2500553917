"""A load's page in whole: its chain, its record, notes about it, and the way there from everywhere."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.app.screens.load import LoadScreen
from board.app.widgets.panel import Panel
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.state import LoadStage
from tests.app.boards import NOW, board, night_ledger
from tests.app.house_fixture import DAY, at
from tests.app.pictures import screen_text, settled

SIZES = ((80, 24), (120, 36), (200, 60))
BRISKET = f"{DAY.isoformat()}/sat-brisket"


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The night's ledger."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


async def press(app: BoardApp, pilot: Pilot[None], *keys: str) -> str:
    """The screen once it has settled after these keys."""
    await pilot.press(*keys)
    await settled(app, pilot)
    return screen_text(app)


def seen(app: BoardApp) -> str:
    """The load whose page is up; empty where none is."""
    return app.screen.chosen_load() if isinstance(app.screen, LoadScreen) else ""


@pytest.mark.parametrize(
    "keys",
    [
        ("tab", "down", "enter"),
        ("3", "enter"),
        ("2", "left_square_bracket", "enter"),
        ("2", "left_square_bracket", "l", "enter"),
        ("3", "v"),
        ("4", "v"),
    ],
    ids=["on the pits", "service", "timeline", "list of loads", "v in service", "v in batches"],
)
async def test_enter_on_a_load_anywhere_leads_to_its_page(keys: tuple[str, ...], ledger: Ledger) -> None:
    """One key on the chosen load shows it, nothing is marked by that, and Esc goes back."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        before = read.data_version(ledger)[1]
        *way, last = keys
        under = await press(app, pilot, *way)
        assert not seen(app)
        await press(app, pilot, last)
        assert seen(app)
        assert (await press(app, pilot, "escape")).splitlines()[0] == under.splitlines()[0]
        assert read.data_version(ledger)[1] == before


async def test_enter_twice_marks_the_next_step_from_the_pits(ledger: Ledger) -> None:
    """Enter sees the load, Enter again marks what the line above the keys says, and the cursor is kept."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        shown = await press(app, pilot, "tab", "down", "enter")
        assert "Enter marks: pull 12 briskets from North" in shown
        await press(app, pilot, "enter")
        assert app.facts.loads[DAY, "sat-brisket"].stage is LoadStage.PULLED
        await press(app, pilot, "u", "escape")
        panel = app.screen.focused
        assert isinstance(panel, Panel)
        assert panel.chosen is not None
        assert panel.chosen.key == BRISKET


async def test_a_line_of_the_record_leads_to_its_load(ledger: Ledger) -> None:
    """Enter on a reading shows it by itself, and Enter there the page of its load."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "5", "k", "enter", "enter")
        assert seen(app).partition("/")[2] in ("sat-brisket", "sat-shoulder")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_the_lists_turn_and_say_all(size: tuple[int, int], ledger: Ledger) -> None:
    """Tab turns from what is known to the steps, the record and the account, at every size."""
    app = board(ledger)
    told = []
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        told.append(await press(app, pilot, "tab", "down", "enter"))
        for _ in range(3):
            told += [await press(app, pilot, "tab")]
    shown = "\n".join(told)
    assert "✓" in shown
    assert "▶" in shown
    assert "load 12 briskets on North" in shown
    assert "later\n" in shown
    assert "the briskets were wrapped in paper" in shown
    assert "core 91°" in shown
    assert "Where the time goes" in shown
    assert all(len(line) <= size[0] for line in shown.splitlines())


async def test_a_late_load_says_why_first(ledger: Ledger) -> None:
    """The hams went on late: two keys from Opening say so before anything else of them."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        shown = await press(app, pilot, "tab", "enter")
    first = next(line for line in shown.splitlines() if line.startswith(" why"))
    assert "went on 44 min after plan, at 05:24" in first


async def test_a_note_on_the_page_is_about_the_load(ledger: Ledger) -> None:
    """n writes a note of this load; it stands on its page and names it in the record."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "tab", "down", "enter", "n", *"flat [dry]", "enter")
        shown = await press(app, pilot, "tab", "tab")
        assert "“flat [dry]”" in shown
        assert "(12 briskets)" in await press(app, pilot, "5")
    (note,) = [one for one in read.entries(ledger, kinds=["note"]) if one.subject]
    assert note.subject == BRISKET


@pytest.mark.parametrize("days", [0, 6], ids=["that day", "days later"])
async def test_a_load_that_is_served_keeps_its_page(days: int, ledger: Ledger) -> None:
    """Its curve, steps and record stay to be read when it is gone, and days after it."""
    for stage, clock in ((LoadStage.PULLED, "06:00"), (LoadStage.SERVED, "15:00")):
        write.mark_load(ledger, "sat-brisket", stage, who="bram", at=at(clock), noted_at=at("20:00"))
    app = board(ledger, now=at("20:00") + timedelta(days=days))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        app.open_load(BRISKET)
        await settled(app, pilot)
        shown = screen_text(app)
        assert "Served since" in shown
        assert shown.count("●") >= 4
        assert "Nothing is left" in shown or "nothing is left to do for this load" in shown
        assert "came off North" in await press(app, pilot, "tab", "tab")


async def test_a_load_without_an_estimate_has_its_page(ledger: Ledger) -> None:
    """A load of a plan that is no plan any more is told so, and nothing breaks on the way round its lists."""
    app = board(ledger, now=NOW)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        app.open_load(f"{DAY.isoformat()}/no-such-load")
        await settled(app, pilot)
        shown = await press(app, pilot, "tab", "right", "left", "enter", "n", "escape", "escape")
    assert "Opening" in shown.splitlines()[0]
