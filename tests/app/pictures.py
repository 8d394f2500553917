"""Pictures of the board: the screen as plain text for the tests, as SVG for people.

python -m tests.app.pictures FOLDER     every view at every size, as SVG
"""

import asyncio
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from textual.pilot import Pilot

from board.app.app import BoardApp
from board.app.settings import Settings
from tests.app.boards import board, night_ledger

SIZES = ((80, 24), (120, 36), (200, 60))
VIEWS = {
    "opening": "1",
    "tomorrow": "2",
    "today": "2,left_square_bracket",
    "service": "3",
    "batches": "4",
    "record": "5",
    "load": "tab,down,v",
    "wall": "0",
}
KEPT = Path(__file__).parent / "pictures"


def screen_text(app: BoardApp) -> str:
    """What is on the screen now, a line a row, without colour."""
    # the compositor is the only place that knows the whole screen as lines
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips).rstrip() + "\n"


async def settled(app: BoardApp, pilot: Pilot[None]) -> None:
    """Wait until the sums in the background have been shown."""
    await pilot.pause()
    while app.revising or app.looking.busy or app.advising.busy:
        await pilot.pause(0.02)
    await pilot.pause()


async def drawn(app: BoardApp, size: tuple[int, int], keys: Sequence[str]) -> str:
    """The screen after pressing keys at a size."""
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        for key in keys:
            await pilot.press(key)
        await settled(app, pilot)
        return screen_text(app)


async def _export(folder: Path) -> None:
    for theme in ("ember", "ash"):
        for view, keys in VIEWS.items():
            for size in SIZES:
                with (
                    tempfile.TemporaryDirectory() as temporary,
                    night_ledger(Path(temporary) / "board.db") as ledger,
                ):
                    app = board(ledger, settings=Settings(theme=theme))
                    async with app.run_test(size=size) as pilot:
                        await settled(app, pilot)
                        for key in keys.split(","):
                            await pilot.press(key)
                        await settled(app, pilot)
                        name = f"{view}-{size[0]}x{size[1]}-{theme}.svg"
                        (folder / name).write_text(app.export_screenshot(), encoding="utf-8")


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    asyncio.run(_export(target))
