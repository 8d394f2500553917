"""What every dialog is: a question over the view that Esc leaves with everything as it was."""

from typing import ClassVar, TypeVar

from textual.binding import BindingType
from textual.screen import ModalScreen

Answer = TypeVar("Answer")


class Dialog(ModalScreen[Answer | None]):
    """Gives its answer, or None where it is left."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "leave")]

    def action_leave(self) -> None:
        """Leave everything as it was."""
        self.dismiss(None)
