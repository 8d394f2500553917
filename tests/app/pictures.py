"""Pictures of the board: its words as plain text, its colours as a grid beside them, and SVG for people.

python -m tests.app.pictures FOLDER     every view at every size in every theme, in ASCII, without colour
python -m tests.app.pictures            those of docs/pictures; all as SVG
"""

import asyncio
import os
import re
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain
from pathlib import Path

from rich.segment import Segment
from rich.style import Style
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.app.clock import SetClock
from board.app.planner import plan
from board.app.session import Session
from board.app.settings import Settings
from board.app.theme import DARK, LIGHT, THEMES, palette_of, tone_style
from board.commands.demo import HOUSE, demo_ledger
from board.house.files import read_house
from board.house.seeds import seed_house
from board.views.text import Tone
from tests.app.boards import board, night_ledger

Size = tuple[int, int]

SIZES = ((60, 20), (80, 24), (120, 36), (200, 60))
USUAL = (80, 24)
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
STYLED = KEPT / "styled"
DOCS = Path(__file__).parents[2] / "docs" / "pictures"
SHOWN = (  # of the demo: name, moment, size, keys, theme
    ("opening", None, USUAL, "1", DARK),
    ("tomorrow", None, (140, 40), "2", DARK),
    ("service", "12:15", USUAL, "3", LIGHT),
    ("wall", None, (200, 60), "0", DARK),
)
# a tone has its letter: small on the view, capital on a raised line, a digit on the chosen line
_LETTERS = dict(zip(Tone, "pqshfgcl", strict=True))
_MORE = "abdeijkmnortuvwxyzABDEIJKMNORTUVWXYZ" + "".join(map(chr, range(0xC0, 0x250)))


def screen_text(app: BoardApp) -> str:
    """What is on the screen now, a line a row, without colour."""
    # the compositor is the only place that knows the whole screen as lines
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips).rstrip() + "\n"


def screen_styles(app: BoardApp) -> list[list[str]]:
    """How each column of each row looks now, in words."""
    strips = app.screen._compositor.render_strips()
    return [list(chain.from_iterable(_worded(segment) for segment in strip)) for strip in strips]


def _worded(segment: Segment) -> Iterator[str]:
    """The style of each column of a segment; of a blank only what can be seen."""
    style = segment.style or Style()
    looks = {blank: in_words(style, blank=blank) for blank in (True, False)}
    return (looks[glyph == " "] for glyph in segment.text for _ in range(Segment(glyph).cell_length))


def in_words(style: Style, *, blank: bool = False) -> str:
    """A style as it is read in a legend: `#ece4d9 on #16120f bold`; of a blank its ground alone."""
    ink, ground = ("none" if color is None else color.name for color in (style.color, style.bgcolor))
    if blank:
        return f"on {ink if style.reverse else ground}{' reverse' if style.reverse else ''}"
    also = [name for name in ("bold", "dim", "reverse", "underline") if getattr(style, name)]
    return " ".join([f"{ink} on {ground}", *also])


def _named() -> dict[tuple[str, ...], str]:
    """The letters of what is found in every picture: each tone on each ground, and the grounds themselves."""
    found: dict[tuple[str, ...], str] = {}
    for ground, blank, change in (
        ("ground", " ", str.lower),
        ("bar", "_", str.upper),
        ("chosen", "-", _digit),
    ):
        for tone in Tone:
            styles = [tone_style(theme, tone, getattr(palette_of(theme), ground)) for theme in THEMES]
            found.setdefault(tuple(in_words(style) for style in styles), change(_LETTERS[tone]))
            found.setdefault(tuple(in_words(style, blank=True) for style in styles), blank)
    return found


def _digit(letter: str) -> str:
    return str([*_LETTERS.values()].index(letter) + 1)


async def in_theme(app: BoardApp, pilot: Pilot[None], theme: str) -> None:
    """The board in another theme, with nothing said of it."""
    app.settings = replace(app.settings, theme=theme)
    app.looks.follow()
    await pilot.pause()
    await pilot.pause()


async def styled(app: BoardApp, pilot: Pilot[None]) -> str:
    """The screen's colours in every theme: a letter for each column, then what each letter is in each."""
    grids = []
    words = screen_text(app)
    for theme in THEMES:
        await in_theme(app, pilot, theme)
        grids.append(screen_styles(app))
        assert screen_text(app) == words, f"{theme} says something else"
    known, spare = _named(), iter(_MORE)
    names: dict[tuple[str, ...], str] = {}
    lines = []
    for rows in zip(*grids, strict=True):
        cells = list(zip(*rows, strict=True))
        for cell in cells:
            if cell not in names:
                names[cell] = known.get(cell) or next(spare)
        lines.append("".join(names[cell] for cell in cells).rstrip())
    legend = sorted(f"{name}  {' | '.join(cell)}" for cell, name in names.items())
    return "\n".join([*lines, "", f"   {' | '.join(THEMES)}", *legend]) + "\n"


async def settled(app: BoardApp, pilot: Pilot[None]) -> None:
    """Wait until the sums in the background have been shown."""
    await pilot.pause()
    while app.revising or app.looking.busy or app.advising.busy:
        await pilot.pause(0.02)
    await pilot.pause()


async def pressed(app: BoardApp, pilot: Pilot[None], keys: Sequence[str]) -> None:
    """Press keys, the sums done before and after."""
    await settled(app, pilot)
    for key in keys:
        await pilot.press(key)
    await settled(app, pilot)


async def drawn(app: BoardApp, size: Size, keys: Sequence[str]) -> str:
    """The screen after pressing keys at a size."""
    async with app.run_test(size=size) as pilot:
        await pressed(app, pilot, keys)
        return screen_text(app)


def svg(app: BoardApp) -> str:
    """The screen as SVG that asks for nothing from anywhere."""
    drawing = re.sub(r"\s*(@font-face \{.*?\}|<!--.*?-->)", "", app.export_screenshot(), flags=re.S)
    return drawing.replace("font-family: Fira Code, monospace", "font-family: monospace")


async def _export(folder: Path) -> None:
    for view, keys in VIEWS.items():
        for size in SIZES:
            await _export_one(folder, view, keys, size, Settings(), THEMES)
        await _export_one(folder, view, keys, USUAL, Settings(ascii=True), (DARK,), "-ascii")
        os.environ["NO_COLOR"] = "1"
        await _export_one(folder, view, keys, USUAL, Settings(), (DARK,), "-no-color")
        os.environ.pop("NO_COLOR", None)


async def _export_one(
    folder: Path, view: str, keys: str, size: Size, settings: Settings, themes: Sequence[str], more: str = ""
) -> None:
    with tempfile.TemporaryDirectory() as temporary, night_ledger(Path(temporary) / "board.db") as ledger:
        app = board(ledger, settings=settings)
        async with app.run_test(size=size) as pilot:
            await pressed(app, pilot, keys.split(","))
            for theme in themes:
                await in_theme(app, pilot, theme)
                name = f"{view}-{size[0]}x{size[1]}{more or f'-{theme}'}.svg"
                (folder / name).write_text(svg(app), encoding="utf-8")


async def _show(folder: Path) -> None:
    """The demo's pictures, for those who read about the board."""
    place = seed_house(HOUSE)
    house = read_house(place)
    for name, moment, size, keys, theme in SHOWN:
        with tempfile.TemporaryDirectory() as temporary:
            ledger, now = demo_ledger(Path(temporary) / "board.db", house, place, moment)
            app = BoardApp(Session(ledger, house, SetClock(now), plan), Settings(theme=theme))
            async with app.run_test(size=size) as pilot:
                await pressed(app, pilot, keys.split(","))
                (folder / f"{name}.svg").write_text(svg(app), encoding="utf-8")
            ledger.close()


if __name__ == "__main__":
    target = Path(sys.argv[1]) if sys.argv[1:] else DOCS
    target.mkdir(parents=True, exist_ok=True)
    asyncio.run(_export(target) if sys.argv[1:] else _show(target))
