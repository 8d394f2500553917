"""A last look before what cannot be quietly taken back: Enter does it, Esc leaves everything as it was."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint


class Confirm(Dialog[bool]):
    """Says what will be done, line by line; gives True for Enter."""

    BINDINGS: ClassVar[list[BindingType]] = [("enter", "do", "do")]

    def __init__(self, heading: str, says: Sequence[str], does: str) -> None:
        super().__init__()
        self._heading = heading
        self._says = says
        self._does = does

    def compose(self) -> ComposeResult:
        """The heading, what will be done, and the keys."""
        with Vertical(classes="dialog"):
            yield Static(self._heading, classes="heading", markup=False)
            for line in self._says:
                yield Static(line, classes="question", markup=False)
            yield Hint(f"Enter {self._does}   Esc leaves")

    def action_do(self) -> None:
        """Do it."""
        self.dismiss(True)
