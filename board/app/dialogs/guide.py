"""A list that typing searches: keys, everything that can be done, what was found, where figures come from."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from threading import Thread
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.widgets import Input

from board.app.dialogs.dialog import Dialog
from board.app.matching import nearest
from board.app.widgets.edges import Edge
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.table import Column, Row, Table, fit
from board.views.text import Cell, Tone, inert, width_of

_EDGES, _GAPS = 5, 4  # lines of the frame, the pages, the line to type on and the hint, and those left blank
_LEAST = 3
_COLUMNS = (Column(drop=2), Column(), Column(grow=True), Column(grow=True))
_ONE_LINE_EACH = (Column(drop=2), Column(), Column(cut=14), Column(cut=20))
_ROOMY = 32  # lines of a screen that leave room for gaps


@dataclass(frozen=True, slots=True)
class Line:
    """One line: what choosing it gives (nothing where it is only read), its group, key, name and words.

    `off` says why it cannot be chosen now; `own` and then `below` stand under it.
    """

    key: str
    group: str
    pressed: str
    name: str
    about: str = ""
    off: str = ""
    below: tuple[str, ...] = ()
    own: str = ""


Page = Callable[[str], Sequence[Line]]
"""The lines of a page that answer to what is typed."""


def page_of(lines: Sequence[Line]) -> Page:
    """A page of lines that are known beforehand."""
    things = [(line, line.name, " ".join((line.group, line.about, line.own, *line.below))) for line in lines]
    return lambda typed: nearest(typed, things)


class Guide(Dialog[str]):
    """Shows pages of lines; letters narrow them, arrows choose, Enter or a press gives a line's key."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("f1", "leave", "leave"),
        Binding("question_mark", "leave_empty", "leave", priority=True),
        Binding("tab", "page(1)", "next page", priority=True),
        Binding("shift+tab", "page(-1)", "page before", priority=True),
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
        ("pageup", "cursor(-10)", "page up"),
        ("pagedown", "cursor(10)", "page down"),
    ]

    class Later(Message):
        """What took longer to find, and for which letters."""

        def __init__(self, typed: str, lines: Sequence[Line]) -> None:
            super().__init__()
            self.typed = typed
            self.lines = lines

    def __init__(
        self,
        pages: Mapping[str, Page],
        *,
        later: Page | None = None,
        ask: str = "type to narrow the list",
        does: str = "Enter does it",
        nothing: str = "Nothing of that name.",
    ) -> None:
        super().__init__(classes="wide")
        self._pages = dict(pages)
        self._names = list(pages)
        self._at = 0
        self._ask = ask
        self._does = does
        self._nothing = nothing
        self._lines: Sequence[Line] = ()
        self._later = later
        self._came: Sequence[Line] = ()
        self._looking = False

    @property
    def busy(self) -> bool:
        """Whether more may still be found for what is typed."""
        return self._looking

    def compose(self) -> ComposeResult:
        """The pages by name, a line to narrow by, the list."""
        with Vertical(classes="dialog"):
            yield Edge(id="pages")
            yield Input(placeholder=self._ask, id="narrow")
            yield Panel(id="choices", choose=True)
            more = "Tab another page" if self._names[1:] else ""
            yield Hint("   ".join(filter(None, (self._does, more, "Esc leaves"))))

    def on_mount(self) -> None:
        """The first page."""
        line = self.query_one(Input)
        line.cursor_blink = False
        line.focus()
        self._panel.always_chosen = True
        self._panel.one_press = self._panel.cuts_rows = True
        self._fill()

    def on_resize(self) -> None:
        """Fit the new size."""
        self._fit()

    @property
    def _panel(self) -> Panel:
        return self.query_one("#choices", Panel)

    def _fill(self) -> None:
        names = [Cell(n, Tone.HEAD if i == self._at else Tone.QUIET) for i, n in enumerate(self._names)]
        self.query_one("#pages", Edge).show(names)
        typed = self.query_one(Input).value
        self._look_further(typed)
        self._show([*self._pages[self._names[self._at]](typed), *self._came])
        self._panel.action_cursor(-len(self._lines))

    def _look_further(self, typed: str) -> None:
        """Begin to look where that takes long, unless that is under way; what was found stands meanwhile."""
        if self._later is None or self._looking:
            return
        if not typed.strip():
            self._came = ()
            return
        self._looking = True
        Thread(target=self._look, args=(self._later, typed), daemon=True).start()

    def _look(self, later: Page, typed: str) -> None:
        """In its own thread: tells the dialog, touches nothing else."""
        lines: Sequence[Line] = ()
        try:
            lines = later(typed)
        finally:
            self.post_message(self.Later(typed, lines))

    def on_guide_later(self, message: Later) -> None:
        """Show what took longer; where other letters are typed by now, look again."""
        message.stop()
        self._looking = False
        typed = self.query_one(Input).value
        self._came = message.lines if typed.strip() else ()
        self._show([*self._pages[self._names[self._at]](typed), *self._came])
        if typed != message.typed:
            self._look_further(typed)

    def _show(self, lines: Sequence[Line]) -> None:
        """Show lines, the cursor in its place."""
        self._lines = lines
        rows, group = [], ""
        for n, line in enumerate(lines):
            rows.append(_row(n, line, "" if line.group == group else line.group))
            group = line.group
        columns = _COLUMNS
        if self.size.height < _ROOMY and any(line.key for line in lines):
            columns, rows = _ONE_LINE_EACH, self._told_whole(rows)
        nothing = "Looking through the record…" if self._looking else self._nothing
        self._panel.show(Table("", columns, tuple(rows), "", nothing))
        self._fit()

    def _told_whole(self, rows: list[Row]) -> list[Row]:
        """The chosen row's words under it where its line has no room for them."""
        at = int(self._panel.chosen.key) if self._panel.chosen else 0
        kept, widths = fit(Table("", _ONE_LINE_EACH, tuple(rows)), self._width)
        if at < len(rows) and kept:
            row = rows[at]
            *others, about = row.cells
            if width_of(about.text) > widths[-1]:
                rows[at] = replace(row, cells=(*others, Cell("")), below=(about, *row.below))
        return rows

    @property
    def _width(self) -> int:
        """The columns of the list."""
        return max(20, min(self.size.width * 94 // 100, 104) - 6)

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another line is told whole."""
        message.stop()
        self._show(self._lines)

    def _fit(self) -> None:
        width = self._width
        short = self.size.height < _ROOMY
        self.set_class(short, "short")
        edges = _EDGES if short else _EDGES + _GAPS
        room = max(_LEAST, self.size.height * 9 // 10 - edges)
        self._panel.styles.height = min(room, self._panel.wanted_height(width) + 1)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Narrow the list."""
        event.stop()
        self._fill()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Give what the cursor is on."""
        event.stop()
        self.action_submit()

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A press gives it too."""
        message.stop()
        self.action_submit()

    def on_edge_pressed(self, message: Edge.Pressed) -> None:
        """Go to the page that was pressed."""
        message.stop()
        if message.text in self._names:
            self.action_page(self._names.index(message.text) - self._at)

    def action_submit(self) -> None:
        """Give the chosen line's key; what is only read, or cannot be done now, gives nothing."""
        row = self._panel.chosen
        line = self._lines[int(row.key)] if row else None
        if line is not None and line.key and not line.off:
            self.dismiss(line.key)

    def action_page(self, by: int) -> None:
        """Another page, with what was typed."""
        self._at = (self._at + by) % len(self._names)
        self._fill()

    def action_cursor(self, by: int) -> None:
        """Move through the list while the line keeps the letters."""
        self._panel.action_cursor(by)

    def action_leave_empty(self) -> None:
        """`?` closes what it opened, unless something is being typed."""
        line = self.query_one(Input)
        if line.value:
            line.insert_text_at_cursor("?")
        else:
            self.dismiss(None)


def _row(number: int, line: Line, group: str) -> Row:
    quiet = bool(line.off)
    cells = (
        Cell(inert(group), Tone.HEAD),
        Cell(line.pressed, Tone.QUIET if quiet else Tone.HEAD),
        Cell(inert(line.name), Tone.QUIET if quiet else Tone.STRONG),
        Cell(inert(f"not now: {line.off}" if quiet else line.about), Tone.QUIET if quiet else Tone.PLAIN),
    )
    own = (Cell(inert(line.own)),) if line.own else ()
    return Row(str(number), cells, (*own, *(Cell(inert(text), Tone.QUIET) for text in line.below)))
