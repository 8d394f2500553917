"""The lines at a view's edges: where and when one is above; what was just said, and the keys, below."""

from collections.abc import Sequence

from textual.events import Click
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from board.app.keys import Act
from board.app.theme import palette_of
from board.app.widgets.strips import cells_strip
from board.views.table import GAP
from board.views.text import Cell, Tone, padded, width_of, wrapped

VIEWS = "1–5 views"
_LAST = ("palette", "help")  # always at the foot: they lead to everything else


class Edge(Widget):
    """One line: cells from the left, and one text at the right where there is room."""

    class Pressed(Message):
        """A text on the line was pressed by mouse or touch."""

        def __init__(self, edge: "Edge", text: str) -> None:
            super().__init__()
            self.edge = edge
            self.text = text

    def __init__(self, *, id: str, raised: bool = False) -> None:
        super().__init__(id=id)
        self._raised = raised
        self._left: tuple[Cell, ...] = ()
        self._right: tuple[Cell, ...] = ()

    def show(self, left: Sequence[Cell], right: Sequence[Cell] = ()) -> None:
        """Show other cells; those on the right give way to those on the left."""
        shown = (tuple(left), tuple(right))
        if shown != (self._left, self._right):
            self._left, self._right = shown
            self.refresh()

    def on_click(self, event: Click) -> None:
        """Tell which text was pressed."""
        at = 1
        for cell in fitted(self._left, self._right, self.size.width - 2):
            if at <= event.x < at + width_of(cell.text) and cell.text.strip():
                self.post_message(self.Pressed(self, cell.text))
            at += width_of(cell.text)

    def render_line(self, y: int) -> Strip:
        """The line itself."""
        theme, width = self.app.theme, self.size.width
        ground = palette_of(theme).bar if self._raised else ""
        cells = fitted(self._left, self._right, width - 2)
        return cells_strip(theme, (Cell(" "), *cells), width, ground)


class Said(Widget):
    """A sentence above the keys, on two lines when one is too short for it."""

    MOST = 2

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._cell = Cell("")

    def show(self, cell: Cell) -> None:
        """Say another sentence."""
        if cell != self._cell:
            self._cell = cell
            self.refresh()

    def lines(self, width: int) -> list[str]:
        """The sentence broken into lines, at most two; what is cut is before its last clause."""
        room = max(1, width - 2)
        lines = wrapped(self._cell.text, room)
        if len(lines) <= self.MOST:
            return lines
        rest, semicolon, last = " ".join(lines[1:]).rpartition("; ")
        end = semicolon + last
        if not rest or width_of(end) > room // 2:
            return [lines[0], padded(" ".join(lines[1:]), room)]
        return [lines[0], padded(rest, room - width_of(end)) + end]

    def render_line(self, y: int) -> Strip:
        """One of the lines."""
        width = self.size.width
        lines = self.lines(width)
        text = lines[y] if y < len(lines) else ""
        return cells_strip(self.app.theme, (Cell(" "), Cell(text, self._cell.tone)), width)


def fitted(left: Sequence[Cell], right: Sequence[Cell], width: int) -> list[Cell]:
    """Whole cells only: those on the left while they fit, then those on the right that still do."""
    laid: list[Cell] = []
    used = 0
    for cell in left:
        size = width_of(cell.text) + (GAP if laid else 0)
        if used + size > width:
            if not laid:
                laid.append(Cell(padded(cell.text, width), cell.tone))
                used = width
            break
        laid += [Cell(" " * GAP), cell] if laid else [cell]
        used += size
    kept: list[Cell] = []
    room = width - used
    for cell in reversed(right):
        size = width_of(cell.text) + GAP
        if size > room:
            break
        kept = [Cell(" " * GAP), cell, *kept]
        room -= size
    return [*laid, Cell(" " * max(0, room)), *kept]


def fits(cells: Sequence[Cell], width: int) -> bool:
    """Whether all of these stand in a line, those without text left out."""
    return _columns([cell for cell in cells if cell.text]) <= width


def foot(acts: Sequence[Act], width: int, first: Sequence[str] = ()) -> list[Cell]:
    """The keys of a view in a line, the most useful first, and always how to see the others.

    Acts of one word stand by the key that is told first; the views stand by their names where there is room.
    """
    told = [act for act in acts if act.foot and act.id not in _LAST]
    told.sort(key=lambda act: first.index(act.id) if act.id in first else len(first))
    keys = {act.word: act for act in reversed(told)}
    last = [Cell(_word(act), Tone.QUIET) for act in acts if act.id in _LAST]
    words = [Cell(_word(act), Tone.QUIET) for act in told if keys[act.word] is act]
    views = [Cell(_word(act), Tone.QUIET) for act in acts if act.id.startswith("view-")]
    if _columns((*words, *views, *last)) > width:
        views = [Cell(VIEWS, Tone.QUIET)]
    while words and _columns((*words, *views, *last)) > width:
        words.pop()
    return [*words, *views, *last]


def fitted_words(words: Sequence[Cell], width: int) -> list[Cell]:
    """As many words as there is room for, the last of them kept longest."""
    kept = list(words)
    while len(kept) > 1 and _columns(kept) > width:
        del kept[-2]
    return kept


def pressed(text: str, acts: Sequence[Act]) -> Act | None:
    """The act whose word at the foot that is."""
    return next((act for act in acts if _word(act) == text), None)


def _word(act: Act) -> str:
    return f"{act.shown_key} {act.word}"


def _columns(cells: Sequence[Cell]) -> int:
    return sum(width_of(cell.text) + GAP for cell in cells) - GAP
