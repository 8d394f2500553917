"""One line of the record by itself, to read; the keys of the record go on from it."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.record_detail import Detail
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

CORRECT, DONE, LOAD = "correct", "done", "load"


class DetailDialog(Dialog[str]):
    """Answers with what to do next: put it right, say what was done, or nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("enter,v", "load", "its load"),
        ("c", "go('correct')", "put right"),
        ("d", "go('done')", "what was done"),
    ]

    def __init__(self, detail: Detail) -> None:
        super().__init__()
        self._detail = detail

    def compose(self) -> ComposeResult:
        """The heading, the lines, and the keys."""
        with Vertical(classes="dialog"):
            yield Static(self._detail.title, classes="heading", markup=False)
            yield Panel(id="detail", choose=True)
            own = "Enter its load   " if self._detail.load else ""
            yield Hint(f"{own}c put right   d what was done   Esc leaves")

    def on_mount(self) -> None:
        """Fill the lines."""
        lines = enumerate(self._detail.lines)
        rows = tuple(Row(str(n), (Cell(head, Tone.QUIET), Cell(says))) for n, (head, says) in lines)
        panel = self.query_one("#detail", Panel)
        panel.show(Table("", (Column(), Column(grow=True)), rows))
        panel.styles.height = min(panel.wanted_height(60), max(3, self.size.height - 9))
        panel.focus()

    def action_go(self, what: str) -> None:
        """Go on from here."""
        self.dismiss(what)

    def action_load(self) -> None:
        """The page of its load; without one, back."""
        self.dismiss(LOAD if self._detail.load else None)
