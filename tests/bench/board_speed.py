"""How fast the board is: its first screen against a bare Textual application, and key to painted screen.

    python -m tests.bench.board_speed

Both are measured in this one run, each beside a bare application: pressing a key in a test waits some
40 ms by itself. Ratios carry over to other machines, milliseconds only roughly.
"""

import asyncio
import statistics
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from textual.app import App, ComposeResult
from textual.widgets import Static

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.session import Session
from board.ledger import write
from board.ledger.open import Ledger
from board.planning.plan import Plan
from tests.app.boards import NOW, night_ledger, no_planner, revised
from tests.app.house_fixture import house, plan
from tests.app.pictures import screen_text

LOADS = 60
SIZE = (120, 36)


class Bare(App[None]):
    """A Textual application that shows the same text and nothing more."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = text

    def compose(self) -> ComposeResult:
        """One widget a line."""
        for line in self._text.splitlines():
            yield Static(line, markup=False)


def crowded(loads: int = LOADS) -> Plan:
    """The fixture's Saturday with its loads repeated."""
    base = plan()
    many = [replace(base.loads[n % len(base.loads)], id=f"load-{n}") for n in range(loads)]
    return replace(base, loads=tuple(many), steps=(), short=(), why={})


def board(ledger: Ledger) -> BoardApp:
    """The board on a ledger."""
    return BoardApp(Session(ledger, house(), StoppedClock(NOW), no_planner, revised, "tomas"))


async def first_screen(make: Callable[[], App[None]]) -> float:
    """Seconds from making an application to its first painted screen."""
    began = time.perf_counter()
    app = make()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        return time.perf_counter() - began


async def keys(app: App[None], pressed: list[str]) -> list[float]:
    """Seconds from each key to the screen it leads to."""
    took = []
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        for key in pressed:
            began = time.perf_counter()
            await pilot.press(key)
            took.append(time.perf_counter() - began)
    return took


async def measure() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as place, night_ledger(Path(place) / "board.db") as ledger:
        write.commit_plan(ledger, crowded(), "bench", who="odile", at=NOW, noted_at=NOW)
        app = board(ledger)
        async with app.run_test(size=SIZE) as pilot:
            await pilot.pause()
            text = screen_text(app)
        ours = [await first_screen(lambda: board(ledger)) for _ in range(5)]
        bare = [await first_screen(lambda: Bare(text)) for _ in range(5)]
        moves = ["2", "left_square_bracket", *["down"] * 10, *["right", "plus", "minus", "left"] * 2]
        took = await keys(board(ledger), moves)
        nothing = await keys(Bare(text), moves)
    print(f"{'':34}{'median':>10}{'worst':>10}")
    for name, values in (
        (f"first screen, {LOADS} loads", ours),
        ("first screen, bare application", bare),
        (f"key to screen, {LOADS} loads", took),
        ("key to screen, bare application", nothing),
    ):
        print(f"{name:34}{1000 * statistics.median(values):>7.0f} ms{1000 * max(values):>7.0f} ms")
    print(f"first screen against bare: {statistics.median(ours) / statistics.median(bare):.2f} times")


if __name__ == "__main__":
    asyncio.run(measure())
