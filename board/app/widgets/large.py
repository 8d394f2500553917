"""The wall's lines in letters as large as the screen allows; what has no room for them stands in small."""

from collections.abc import Sequence

from textual.strip import Strip
from textual.widget import Widget

from board.app.letters import Size, lines_of, width_of
from board.app.widgets.strips import cells_strip
from board.views.text import Cell, Tone, first_words
from board.views.text import width_of as columns_of
from board.views.wall import Row, Wall, WallLine

SIZES = (Size(1, 5), Size(1, 7), Size(2, 10), Size(3, 15), Size(4, 20))
_LETTERS, _LINES = 26, 6  # letters across and lines down that a size must leave room for
_PIXELS = 5  # of a usual letter with its gap
_WRAPPED = 2  # lines of large letters that one thing may take
_LOW = 30  # rows under which the head stands in small
_GAP = 4
_LEAST_WORDS = 8  # columns under which a piece says nothing
_SPACE = Cell(" ")

Words = list[Cell]


class LargeType(Widget):
    """Draws the wall."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._wall: Wall | None = None
        self._solid = False
        self._rows: list[Row] = []

    def show(self, wall: Wall, *, solid: bool) -> None:
        """Show another moment; `solid` draws letters of # alone."""
        if (wall, solid) != (self._wall, self._solid):
            self._wall, self._solid = wall, solid
            self._lay()

    def on_resize(self) -> None:
        """Fit the new size."""
        self._lay()

    def _lay(self) -> None:
        width, height = self.size
        self._rows = laid(self._wall, width, height, solid=self._solid) if self._wall and height else []
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One row of the screen."""
        row = self._rows[y] if y < len(self._rows) else ()
        return cells_strip(self.app.theme, row, self.size.width)


def body_size(width: int, height: int) -> Size:
    """The largest letters that leave room for a few words across and a few lines down."""
    fits = (
        size
        for size in reversed(SIZES)
        if width // (size.columns * _PIXELS) >= _LETTERS and height // size.pitch >= _LINES
    )
    return next(fits, SIZES[0])


def laid(wall: Wall, width: int, height: int, *, solid: bool = False) -> list[Row]:
    """The wall as rows of the screen, no more than there are: large by weight while there is room, or small.

    What is still to be laid keeps a row for each.
    """
    size = body_size(width, height)
    blocks = [_head(wall, width, height, size, solid)]
    room = height - len(blocks[0])
    for at, line in enumerate(wall.lines):
        after = len(wall.lines) - at - 1
        blocks.append(_block(line, width, size, min(_WRAPPED, (room - after) // size.pitch), solid))
        room -= len(blocks[-1])
    tall = sum(len(block) > 1 for block in blocks)
    apart: list[Row] = [()] if room >= tall else []
    return [row for block in blocks for row in (*block, *(apart if len(block) > 1 else ()))][:height]


def _block(line: WallLine, width: int, size: Size, most: int, solid: bool) -> list[Row]:
    """A thing's rows: its large letters, and what is small in the gap under them."""
    large, small = _fitted(line, width, size, most)
    rows: list[Row] = []
    for words in large:
        rows += [*lines_of(words, size, solid=solid), *[()] * (size.pitch - size.rows)]
    return [*rows[:-1], _small(small, width)]


def _fitted(line: WallLine, width: int, size: Size, most: int) -> tuple[list[Words], Row]:
    """A thing in as few lines of large letters as it can be told in, and what then stands small."""
    if most < 1:
        return [], line.cells
    beside = range(len(line.beside), -1, -1)
    ways = (
        *(((*line.before, line.name, *line.after, *line.beside[:n]), line.beside[n:]) for n in beside),
        ((line.name, *line.after), (*line.before, *line.beside)),
        ((*line.before, line.name), (*line.after, *line.beside)),
        ((line.name,), (*line.before, *line.after, *line.beside)),
    )
    told = [(_lines(large, width, size), small) for large, small in ways]
    lines, small = next((way for way in told if len(way[0]) <= 1), told[-1])
    if len(lines) <= most:
        return lines, small
    return [*lines[: most - 1], [*lines[most - 1], Cell("…", Tone.QUIET)]], line.cells


def _head(wall: Wall, width: int, height: int, size: Size, solid: bool) -> list[Row]:
    """The clock, larger where there is room, and how long until the service."""
    clock, ahead = Cell(wall.clock, Tone.STRONG), Cell(wall.countdown, Tone.HEAD)
    if height < _LOW:
        return [(clock, Cell("  "), ahead)]
    for larger in (SIZES[min(SIZES.index(size) + 1, len(SIZES) - 1)], size):
        used = width_of(clock.text, larger) + _GAP
        if used + width_of(ahead.text, size) <= width and height // larger.pitch >= _LINES - 1:
            return _beside(clock, ahead, larger, size, solid)
    used = width_of(clock.text, size) + 2 * _GAP + columns_of(wall.service)
    if wall.left and used + width_of(wall.left, size) <= width:
        return _between(clock, wall.service, Cell(wall.left, Tone.HEAD), size, solid)
    rows = lines_of([clock], size, solid=solid)
    return [*rows[:-1], (*rows[-1], Cell(" " * _GAP), ahead), ()]


def _between(clock: Cell, name: str, left: Cell, size: Size, solid: bool) -> list[Row]:
    """Both in large letters with the service's name small between them."""
    before, after = lines_of([clock], size, solid=solid), lines_of([left], size, solid=solid)
    between = [*[" " * columns_of(name)] * (size.rows - 1), name]
    gap = Cell(" " * _GAP)
    rows = zip(before, between, after, strict=True)
    return [(*a, gap, Cell(text, Tone.HEAD), gap, *b) for a, text, b in rows] + [()]


def _beside(clock: Cell, ahead: Cell, large: Size, size: Size, solid: bool) -> list[Row]:
    """Both in large letters, standing on one line."""
    left, right = lines_of([clock], large, solid=solid), lines_of([ahead], size, solid=solid)
    above: list[Row] = [()] * (large.rows - size.rows)
    rows = zip(left, [*above, *right], strict=True)
    return [(*a, Cell(" " * _GAP), *b) for a, b in rows] + [()] * (large.pitch - large.rows)


def _lines(cells: Sequence[Cell], width: int, size: Size) -> list[Words]:
    """The pieces broken at spaces into lines of large letters."""
    lines: list[Words] = [[]]
    used = 0
    for word in (Cell(word, cell.tone) for cell in cells for word in cell.text.split()):
        wide = width_of(word.text, size)
        gap = width_of(" ", size) + 2 * size.columns if lines[-1] else 0
        if lines[-1] and used + gap + wide > width:
            lines.append([])
            used = gap = 0
        lines[-1] += [_SPACE, word] if lines[-1] else [word]
        used += gap + wide
    return lines if lines[0] else []


def _small(cells: Sequence[Cell], width: int) -> Row:
    """The pieces side by side; the one that has no room for all its words ends in an ellipsis."""
    row: list[Cell] = []
    for cell in cells:
        room = width - sum(columns_of(one.text) for one in row)
        if room < _LEAST_WORDS:
            break
        row += [Cell(first_words(cell.text, room), cell.tone), Cell("  ")]
    return tuple(row)
