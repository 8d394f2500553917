"""Laid-out cells and drawn dots as strips of styled text; user text stays text, never markup."""

from collections.abc import Iterable
from itertools import groupby

from rich.segment import Segment
from textual.strip import Strip

from board.app.theme import dot_style, palette_of, tone_style, warm_style
from board.views.canvas import Dot
from board.views.table import Line
from board.views.text import Cell, Tone


def blank(theme: str, width: int) -> Strip:
    """An empty line on the view's ground."""
    return Strip([Segment(" " * width, tone_style(theme, Tone.PLAIN))], width)


def line_strip(theme: str, line: Line, width: int, *, chosen: bool = False) -> Strip:
    """A line of a table, on the chosen ground when it holds the cursor."""
    return cells_strip(theme, line.cells, width, ground=palette_of(theme).chosen if chosen else "")


def cells_strip(theme: str, cells: Iterable[Cell], width: int, ground: str = "") -> Strip:
    """Cells one after the other, filled or cut to the width."""
    segments: list[Segment] = []
    for cell in cells:
        segments += _segments(theme, cell, ground)
    return Strip(segments).adjust_cell_length(width, tone_style(theme, Tone.PLAIN, ground))


def _segments(theme: str, cell: Cell, ground: str) -> list[Segment]:
    if not cell.heat:
        # blanks stand apart: an exported picture drops those that begin a piece of text
        text = cell.text.lstrip(" ")
        blanks = Segment(" " * (len(cell.text) - len(text)), tone_style(theme, Tone.PLAIN, ground))
        return [blanks, Segment(text, tone_style(theme, cell.tone, ground))]
    warm = [
        Segment(glyph, warm_style(theme, round(level, 2), ground))
        for glyph, level in zip(cell.text, cell.heat, strict=False)
    ]
    rest = cell.text[len(cell.heat) :]
    return [*warm, Segment(rest, tone_style(theme, Tone.PLAIN, ground))] if rest else warm


def dots_strip(theme: str, dots: Iterable[Dot], width: int) -> Strip:
    """A drawn line in the theme's colours."""
    runs = groupby(dots, key=lambda dot: (dot.ink, dot.ground, round(dot.level, 2)))
    segments = [Segment("".join(dot.glyph for dot in run), dot_style(theme, *look)) for look, run in runs]
    return Strip(segments).adjust_cell_length(width, tone_style(theme, Tone.PLAIN))
