"""What every dialog is: a question over the view that Esc leaves with everything as it was."""

from typing import ClassVar, TypeVar

from textual.binding import BindingType
from textual.events import MouseDown
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from board.views.text import width_of

Answer = TypeVar("Answer")


class Dialog(ModalScreen[Answer | None]):
    """Gives its answer, or None where it is left."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "leave")]

    def refuse(self, sentence: str) -> None:
        """Say what is wrong with what was typed; nothing where it is right.

        What was refused is selected, so that typing puts another in its place, as nobody looks where the
        cursor stands; an arrow or End goes on in it. Words too long to be seen whole are not: a key would
        take away what nobody sees.
        """
        self.query_one(".wrong", Static).update(sentence)
        line = self.focused
        if sentence and isinstance(line, Input) and width_of(line.value) < line.content_size.width:
            line.action_select_all()

    async def on_mouse_down(self, event: MouseDown) -> None:
        """A press beside it leaves it, unless something is typed; the one that opened it was on the view."""
        at, _ = self.get_widget_at(event.screen_x, event.screen_y)
        if at is self and not any(line.value for line in self.query(Input)):
            await self.app.run_action("leave", self)

    def action_leave(self) -> None:
        """Leave everything as it was."""
        self.dismiss(None)
