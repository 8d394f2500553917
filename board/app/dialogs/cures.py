"""What is short and its cures along the foot; Enter tries one."""

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.cures import Lacking, can_try, cures_table, why_not
from board.views.guidance import Key

_HINT = "Enter tries what has a + and plans again   · is the house's to change   Esc leaves"
_EDGES = 4  # lines of the frame, what cannot be tried and the keys


class CuresDialog(Dialog[str]):
    """Each shortage with its cures; gives the one to try as `SHORTAGE/CURE`, counted from nought."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("r", "leave", "leave"),
        ("enter", "choose", "try it"),
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
    ]

    def __init__(self, found: tuple[Lacking, ...], key: Key) -> None:
        super().__init__(classes="at-foot")
        self._found = found
        self._key = key

    def compose(self) -> ComposeResult:
        """The list, what cannot be tried, the keys."""
        with Vertical(classes="docked"):
            yield Panel(id="cures", choose=True)
            yield Static("", classes="wrong", markup=False)
            yield Hint(_HINT)

    def on_mount(self) -> None:
        """The first cure is chosen."""
        panel = self.query_one("#cures", Panel)
        panel.always_chosen = True
        panel.show(cures_table(self._found))
        panel.choose(next(self._can_be_tried(), "0/0"))
        panel.focus()
        self.on_resize()

    def on_resize(self) -> None:
        """As tall as the list is, and half the screen at most."""
        wanted = self.query_one("#cures", Panel).wanted_height(max(20, self.size.width - 2))
        self.query_one(".docked").styles.height = _EDGES + min(wanted, self.size.height // 2)

    def _can_be_tried(self) -> Iterator[str]:
        for at, lacking in enumerate(self._found):
            yield from (f"{at}/{n}" for n, offer in enumerate(lacking.offers) if can_try(lacking, offer))

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A double click tries it too."""
        message.stop()
        self.action_choose()

    def action_choose(self) -> None:
        """Give the chosen cure, or say what must be done for it."""
        row = self.query_one("#cures", Panel).chosen
        if row is None or "/" not in row.key:
            return
        at, n = (int(part) for part in row.key.split("/"))
        lacking = self._found[at]
        if can_try(lacking, lacking.offers[n]):
            self.dismiss(row.key)
        else:
            self.refuse(why_not(lacking.offers[n], self._key))

    def action_cursor(self, by: int) -> None:
        """Choose another cure."""
        self.query_one("#cures", Panel).action_cursor(by)
