"""The handover: what the next shift will read, a line to add to it, and Enter to sign."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.views.table import Column, Row, Table
from board.views.text import Cell

_MOST_LINES = 16


class HandoverDialog(Dialog[None]):
    """Shows the draft; what is typed is added, Enter signs, Esc leaves everything as it was."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
    ]

    def __init__(self, draft: Sequence[str], sign: Callable[[str], None]) -> None:
        """`sign` records it with what was added, or raises a BoardError."""
        super().__init__()
        self._draft = draft
        self._sign = sign

    def compose(self) -> ComposeResult:
        """The sentences, the line to add, and how to sign."""
        with Vertical(classes="dialog"):
            yield Static("Handover: what the next shift will read", classes="heading", markup=False)
            yield Panel(id="draft", choose=True)
            yield Input(placeholder="what else must they know?", id="note", max_length=500)
            yield Static("", classes="wrong", markup=False)
            yield Hint("Enter signs   ↑ ↓ read on   Esc leaves")

    def on_mount(self) -> None:
        """Ready to read and to type."""
        self.query_one(Input).cursor_blink = False
        self.query_one(Input).focus()
        rows = tuple(Row(str(n), (Cell(says),)) for n, says in enumerate(self._draft))
        panel = self.query_one("#draft", Panel)
        panel.show(Table("", (Column(grow=True),), rows))

    def on_resize(self) -> None:
        """As many lines as there is room for."""
        panel = self.query_one("#draft", Panel)
        width = min(72, self.app.size.width * 94 // 100) - 6
        panel.styles.height = min(_MOST_LINES, self.app.size.height - 11, panel.wanted_height(width))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Sign, with what was added; where that is refused, say why."""
        event.stop()
        try:
            self._sign(event.value)
        except BoardError as error:
            self.query_one(".wrong", Static).update(str(error))
            return
        self.dismiss(None)

    def action_cursor(self, by: int) -> None:
        """Read on."""
        self.query_one("#draft", Panel).action_cursor(by)
