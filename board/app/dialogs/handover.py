"""The handover: what the next shift will read, a line to add to it, and Enter to sign."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.signing import Then
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.ledger.signers import Vouched
from board.views.table import Column, Row, Table
from board.views.text import Cell

_MOST_LINES = 16


class HandoverDialog(Dialog[None]):
    """Shows the draft; what is typed is added, Enter signs, Esc leaves everything as it was."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
    ]

    def __init__(
        self, draft: Sequence[str], vouch: Callable[[Then], None], sign: Callable[[str, Vouched | None], None]
    ) -> None:
        """`vouch` has whoever signs shown to be who they are; `sign` records it with what was added.

        Both may raise a BoardError.
        """
        super().__init__()
        self._draft = draft
        self._vouch = vouch
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
        words = event.value

        def record(vouched: Vouched | None) -> None:
            self._attempt(lambda: self._record(words, vouched))

        self._attempt(lambda: self._vouch(record))

    def _record(self, words: str, vouched: Vouched | None) -> None:
        self._sign(words, vouched)
        self.dismiss(None)

    def _attempt(self, act: Callable[[], None]) -> None:
        try:
            act()
        except BoardError as error:
            self.refuse(str(error))

    def action_cursor(self, by: int) -> None:
        """Read on."""
        self.query_one("#draft", Panel).action_cursor(by)
