"""Planning in the background: what is told meanwhile, and stopping."""

from collections.abc import Iterator
from pathlib import Path
from time import sleep

import pytest

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.session import Better, Session, Wanted
from board.ledger.open import Ledger
from board.planning.plan import Plan
from tests.app.boards import NOW, board, night_ledger, revised
from tests.app.house_fixture import house, sunday
from tests.app.pictures import screen_text, settled

SIZE = (120, 36)


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The ledger after the night."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


def until_stopped(wanted: Wanted, better: Better) -> Plan:
    """A planner that looks for better until somebody says stop."""
    better(None, "9.0 % from the best possible")
    while not wanted.stop():
        sleep(0.005)
    return sunday()


@pytest.mark.parametrize("size", [(80, 24), SIZE])
async def test_s_stops_planning_and_takes_the_best_plan_so_far(ledger: Ledger, size: tuple[int, int]) -> None:
    """While a day is planned the head tells seconds and gap, at any width; after s the plan is the draft."""
    app = BoardApp(Session(ledger, house(), StoppedClock(NOW), until_stopped, revised, "odile"))
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await pilot.press("2", "g")
        while "9.0 %" not in app.planning.word(sunday().day):
            await pilot.pause(0.02)
        await pilot.pause()
        assert "planning: 0 s, 9.0 % from the best possible" in screen_text(app)
        assert "s stops planning" in screen_text(app)
        await pilot.press("s")
        while app.planning.word(sunday().day):
            await pilot.pause(0.02)
        await pilot.pause()
        assert "draft, not committed" in screen_text(app)
        assert "planned in 0 s" in screen_text(app)


async def test_s_says_so_when_nothing_is_planned(ledger: Ledger) -> None:
    """There is nothing to stop; the key that would begin is named."""
    app = board(ledger, who="odile")
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await pilot.press("2", "s")
        await pilot.pause()
        assert "g plans it" in screen_text(app)
