"""The load's page on the screen: reached and left by keys, there at once, filled in when the sums come."""

from dataclasses import replace
from pathlib import Path
from threading import Event

import pytest

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.screens.load import LoadScreen
from board.app.session import Session
from board.ledger.open import Ledger
from board.views.facts import Facts
from board.views.load_course import LoadCourse
from tests.app.boards import NOW, board, looked, night_ledger, no_planner, revised
from tests.app.house_fixture import house, sunday
from tests.app.pictures import screen_text, settled

SIZES = ((80, 24), (120, 36), (200, 60), (60, 20))


def waiting_board(ledger: Ledger, until: Event) -> BoardApp:
    """A board whose sums about a load wait until they are let go."""

    def slow(facts: Facts, key: str) -> LoadCourse | None:
        until.wait(10)
        return looked(facts, key)

    return BoardApp(Session(ledger, house(), StoppedClock(NOW), no_planner, revised, "tomas", looker=slow))


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_the_page_reads_at_every_size(size: tuple[int, int], tmp_path: Path) -> None:
    """At each size the page says what the load is, when it is ready, and draws its core and its aim."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=size) as pilot:
            await settled(app, pilot)
            await pilot.press("tab", "down", "v")
            await settled(app, pilot)
            text = screen_text(app)
    assert "12 briskets" in text
    assert "Ready about 08:05 (07:20–09:10), needed 11:00: 2 h 40 to" in text
    assert text.count("●") >= 4
    assert " 95°  pull ─" in text
    assert "now 05:42" in text
    assert all(len(line) <= size[0] for line in text.splitlines())


@pytest.mark.parametrize(("view", "keys"), [("Opening", "1"), ("Tomorrow", "2"), ("Service", "3")])
async def test_v_opens_the_chosen_load_and_escape_goes_back(view: str, keys: str, tmp_path: Path) -> None:
    """From the three views that choose loads the page opens over the view and Esc leaves it."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await pilot.press(keys, *(("tab",) if view == "Opening" else ()), "v")
            await settled(app, pilot)
            assert isinstance(app.screen, LoadScreen)
            await pilot.press("escape")
            await pilot.pause()
            assert view in screen_text(app).splitlines()[0]


async def test_a_number_key_leaves_the_page_for_a_view(tmp_path: Path) -> None:
    """1 to 5 go to their view from the page too, also to the one it was opened over."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await pilot.press("tab")
            for key, name in (("5", "Record"), ("1", "Opening")):
                await pilot.press("1", "v")
                await settled(app, pilot)
                assert isinstance(app.screen, LoadScreen)
                await pilot.press(key)
                await pilot.pause()
                assert name in screen_text(app).splitlines()[0]


async def test_v_on_a_line_without_a_load_says_so(tmp_path: Path) -> None:
    """Where no load is chosen the key explains itself and nothing opens."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await pilot.press("tab", "tab", "v")
            await pilot.pause()
            assert not isinstance(app.screen, LoadScreen)
            assert "choose a load first" in screen_text(app)


async def test_a_load_of_a_draft_has_its_page(tmp_path: Path) -> None:
    """A load planned and not committed yet can be looked at from Tomorrow."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        drafted = replace(sunday(), loads=(replace(sunday().loads[0], id="sun-draft"),))
        app.session.drafts[sunday().day] = drafted
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await pilot.press("2", "v")
            await settled(app, pilot)
            text = screen_text(app)
    assert "this load is only in a draft" in text
    assert "24 chicken halves" in text
    assert "pull ─" in text


async def test_the_page_is_there_before_its_sums(tmp_path: Path) -> None:
    """What was read shows at once; the account says that it is coming, and comes."""
    let_go = Event()
    with night_ledger(tmp_path / "board.db") as ledger:
        app = waiting_board(ledger, let_go)
        async with app.run_test(size=(120, 36)) as pilot:
            await pilot.pause()
            await pilot.press("tab", "down", "v", "tab", "tab")
            await pilot.pause()
            before = screen_text(app)
            let_go.set()
            await settled(app, pilot)
            after = screen_text(app)
    assert "working it out…" in before
    assert before.count("●") >= 4
    assert "What each thing is worth" not in before
    assert "What each thing is worth" in after
    assert "stall" in after


async def test_arrows_go_from_load_to_load_and_stop_at_the_ends(tmp_path: Path) -> None:
    """← and → show the loads before and after by loading time, and say when there is none."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            await pilot.press("tab", "down", "v")
            await settled(app, pilot)
            await pilot.press("right")
            await settled(app, pilot)
            assert "6 shoulders" in screen_text(app)
            await pilot.press("left", "left")
            await settled(app, pilot)
            text = screen_text(app)
    assert "12 briskets" in text
    assert "there is no other load that way" in text


async def test_enter_and_undo_work_on_the_page(tmp_path: Path) -> None:
    """Enter marks the load's next step, the page shows it, and u takes it back."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("tab", "down", "v", "enter")
            await settled(app, pilot)
            pulled = screen_text(app)
            await pilot.press("u")
            await settled(app, pilot)
            back = screen_text(app)
    assert "pulled 05:42" in pulled
    assert "pulled 05:42" not in back


async def test_a_temperature_on_the_page_is_the_load_s(tmp_path: Path) -> None:
    """t on the page asks for this load's core, and the reading joins the chart."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("tab", "down", "v", "t", "9", "2", "enter")
            await settled(app, pilot)
            text = screen_text(app)
    assert "core 92° at 05:42" in text
