"""The alarms: each with what to do and since when; answered, put off, or followed to its load."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.table import Table

GO, ANSWER, PUT_OFF, LOAD = "go", "answer", "put off", "load"
_KEYS = "Enter see to it   v its load   r answer   p put off   Esc leaves"
_EDGES, _WIDE, _SIDES = 7, 104, 6


class AlarmsDialog(Dialog[tuple[str, str]]):
    """Gives what is wanted of the alarm under the cursor, and its key."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("enter", "want('go')", "see to it"),
        ("r", "want('answer')", "answered"),
        ("p", "want('put off')", "put off"),
        ("v", "want('load')", "load"),
    ]

    def __init__(self, table: Table) -> None:
        super().__init__(classes="wide")
        self._table = table

    def compose(self) -> ComposeResult:
        """The list and its keys."""
        with Vertical(classes="dialog"):
            yield Panel(id="alarm-list", choose=True)
            yield Hint(_KEYS)

    def on_mount(self) -> None:
        """Fill the list."""
        self.show(self._table)
        self.query_one("#alarm-list", Panel).focus()

    def show(self, table: Table) -> None:
        """Show the alarms as they are now."""
        self._table = table
        panel = self.query_one("#alarm-list", Panel)
        panel.show(table)
        self._fit()

    def on_resize(self) -> None:
        """Fit the new size."""
        self._fit()

    def _fit(self) -> None:
        panel = self.query_one("#alarm-list", Panel)
        width = max(20, min(self.size.width * 94 // 100, _WIDE) - _SIDES)
        panel.styles.height = max(3, min(panel.wanted_height(width), self.size.height * 9 // 10 - _EDGES))

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A second press sees to it."""
        message.stop()
        self.action_want(GO)

    def action_want(self, what: str) -> None:
        """Give what is wanted of the chosen alarm."""
        row = self.query_one("#alarm-list", Panel).chosen
        if row is not None:
            self.dismiss((what, row.key))
