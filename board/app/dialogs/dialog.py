"""What every dialog is: a question over the view that Esc leaves with everything as it was."""

from typing import ClassVar, TypeVar

from textual.binding import BindingType
from textual.screen import ModalScreen
from textual.widgets import Static

Answer = TypeVar("Answer")


class Dialog(ModalScreen[Answer | None]):
    """Gives its answer, or None where it is left."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "leave")]

    def refuse(self, sentence: str) -> None:
        """Say what is wrong with what was typed; nothing where it is right."""
        self.query_one(".wrong", Static).update(sentence)

    def action_leave(self) -> None:
        """Leave everything as it was."""
        self.dismiss(None)
