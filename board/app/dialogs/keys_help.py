"""The keys of the view one is in, and those that work everywhere."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from board.app.keys import EVERYWHERE, LIST, Act
from board.app.widgets.panel import Panel
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


class KeysHelp(ModalScreen[None]):
    """Every key with a sentence; any of Esc, Enter, ? and q closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape,enter,question_mark,q", "leave", "close")]

    def __init__(self, view: str, acts: Sequence[Act]) -> None:
        super().__init__()
        self._view = view
        self._acts = (*acts, *EVERYWHERE, *LIST)

    def compose(self) -> ComposeResult:
        """The list of keys."""
        with Vertical(classes="dialog"):
            yield Panel(id="keys", choose=True)
            yield Static("Esc to close", classes="hint", markup=False)

    def on_mount(self) -> None:
        """Fill the list."""
        rows = tuple(
            Row(str(i), (Cell(act.shown_key, Tone.HEAD), Cell(act.word, Tone.STRONG), Cell(act.tip)))
            for i, act in enumerate(self._acts)
        )
        panel = self.query_one("#keys", Panel)
        columns = (Column(), Column(), Column(grow=True))
        panel.show(Table(f"Keys in {self._view}", columns, rows))
        panel.styles.height = min(len(rows) + 4, self.size.height - 6)
        panel.focus()

    def action_leave(self) -> None:
        """Back to the view."""
        self.dismiss(None)
