"""What the first screen waits for: nothing that only a key, a sum or a print-out needs."""

import subprocess
import sys
from pathlib import Path

from tests.app.boards import NOW, board, night_ledger

HEAVY = {"numpy", "pandas", "ortools", "pint", "reportlab", "psychrolib"}
LATER = {
    "board.app.acting",
    "board.app.guiding",
    "board.app.screens.tomorrow",
    "board.app.screens.service",
    "board.app.screens.batches",
    "board.app.screens.record",
    "board.ledger.checking",
    "board.views.chart",
    "board.views.inspection",
    "board.views.labels",
    "board.views.load_course",
    "board.planning.planner",
    "board.planning.search",
}
CODE = """
import asyncio, sys
from pathlib import Path
from board.app.app import BoardApp
from board.ledger.open import open_ledger
from datetime import datetime
from tests.app.house_fixture import house
from board.app.clock import SetClock
from board.app.session import Session

async def seen(app):
    painted = []
    paint = app._display
    def noted(screen, shown):
        if shown is not None and not painted:
            painted.extend(sys.modules)
        paint(screen, shown)
    app._display = noted
    async with app.run_test(size=(120, 36)):
        pass
    return painted

now = datetime.fromisoformat(sys.argv[2])
with open_ledger(Path(sys.argv[1])) as ledger:
    print(*asyncio.run(seen(BoardApp(Session(ledger, house(), SetClock(now), lambda *_: None, who="tomas")))))
"""


def test_the_first_screen_loads_only_what_it_shows(tmp_path: Path) -> None:
    """No arrays, solver, units registry, other view or act is imported before the first paint."""
    night_ledger(tmp_path / "board.db").close()
    command = [sys.executable, "-c", CODE, str(tmp_path / "board.db"), NOW.isoformat()]
    done = subprocess.run(command, capture_output=True, check=False, text=True)
    loaded = set(done.stdout.split())
    assert "board.app.screens.opening" in loaded, done.stderr
    assert loaded & (HEAVY | LATER) == set()


async def test_estimates_are_revised_though_a_dialog_opens_before_the_first_paint(tmp_path: Path) -> None:
    """A key pressed as the board comes up does not keep what waits for its first screen from being done."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("n", "escape")
            for _ in range(200):
                await pilot.pause(0.02)
                if app.revised:
                    break
            assert app.revised
            assert not app.when_painted
