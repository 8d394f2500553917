"""The messages of probes that were set aside: when each came, why it could not be taken, and its text."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.table import Column, Row, Table

_EDGES = 8  # lines of the frame, the heading and the keys


class AsideDialog(Dialog[None]):
    """A list to read, the latest message first."""

    BINDINGS: ClassVar[list[BindingType]] = [("enter", "leave", "leave")]

    def __init__(self, rows: Sequence[Row]) -> None:
        super().__init__(classes="wide")
        self._rows = tuple(rows)

    def compose(self) -> ComposeResult:
        """The messages and the keys."""
        with Vertical(classes="dialog"):
            yield Panel(id="aside", choose=True)
            yield Hint("↑ ↓ read on   Esc leaves")

    def on_mount(self) -> None:
        """Fill the list."""
        panel = self.query_one("#aside", Panel)
        columns = (Column(), Column(), Column(grow=True))
        panel.show(Table("Set aside: these could not be taken", columns, self._rows))
        panel.focus()

    def on_resize(self) -> None:
        """Fit the new size."""
        panel = self.query_one("#aside", Panel)
        width = max(20, min(self.size.width * 94 // 100, 104) - 6)
        panel.styles.height = max(3, min(panel.wanted_height(width), self.size.height * 9 // 10 - _EDGES))
