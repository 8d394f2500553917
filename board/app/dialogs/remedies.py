"""The remedies of one load: each with its time, its chance and its cost; Enter does one and records it."""

from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.planning.remedies.remedy import Action, Advice, Kind
from board.views.remedies import WORD, Remedies
from board.views.remedies_tables import left_out_table, remedies_table

if TYPE_CHECKING:
    from board.app.app import BoardApp

_EDGES = 9  # lines of the frame, the heading, the hint and the word over it
_WIDE, _SIDES = 104, 6  # columns of the frame at its widest, and of its sides
_LEAST, _BELOW = 7, 2  # lines of both lists, and of what is not offered


class RemediesDialog(Dialog[Action]):
    """Shows what helps once it is worked out; the last line is to leave everything as it is."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("enter", "choose", "do it"),
        ("v", "load", "the load"),
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
    ]

    def __init__(self, load: str) -> None:
        super().__init__(classes="wide")
        self.load = load
        self._view: Remedies | None = None
        self._actions: tuple[Action, ...] = ()

    def compose(self) -> ComposeResult:
        """The remedies over what is not offered."""
        with Vertical(classes="dialog"):
            yield Static("Working out what helps…", classes="question", markup=False)
            yield Panel(id="remedies", choose=True)
            yield Panel(id="left")
            yield Hint()

    def on_mount(self) -> None:
        """Show what is known already."""
        self._fill()

    def show(self, view: Remedies, advice: Advice) -> None:
        """Show what was worked out."""
        self._view = view
        self._actions = (*(one.action for one in advice.remedies), advice.nothing.action)
        self._fill()

    def say(self, sentence: str) -> None:
        """Say why there is no list."""
        self.query_one(".question", Static).update(sentence)

    def on_resize(self) -> None:
        """Fit the new size."""
        self._fill()

    def _fill(self) -> None:
        view = self._view
        for id in ("remedies", "left"):
            self.query_one(f"#{id}", Panel).display = view is not None
        hint = "Enter records it as done   Esc leaves" if view else "Esc leaves"
        self.query_one(Hint).update(f"{WORD}\n{hint}" if view else hint)
        if view is None:
            return
        self.query_one(".question", Static).update(view.heading)
        panel, left = self.query_one("#remedies", Panel), self.query_one("#left", Panel)
        panel.always_chosen = True
        panel.show(remedies_table(view))
        left.show(left_out_table(view))
        width = max(20, min(self.size.width * 94 // 100, _WIDE) - _SIDES)
        room = max(_LEAST, self.size.height * 9 // 10 - _EDGES)
        wanted, below = (one.wanted_height(width) for one in (panel, left))
        panel.styles.height = min(wanted, room - _BELOW)
        left.styles.height = min(below, room - min(wanted, room - _BELOW))
        left.display = bool(view.left_out)
        panel.focus()

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A double click does it too."""
        message.stop()
        self.action_choose()

    def action_choose(self) -> None:
        """Give what is under the cursor; to leave everything as it is gives nothing."""
        row = self.query_one("#remedies", Panel).chosen if self._view else None
        if row is None:
            return
        action = self._actions[int(row.key)]
        self.dismiss(None if action.kind is Kind.NOTHING else action)

    def action_cursor(self, by: int) -> None:
        """Choose another remedy."""
        self.query_one("#remedies", Panel).action_cursor(by)

    def action_load(self) -> None:
        """The page of the load they are for."""
        self.dismiss(None)
        self.app.call_later(cast("BoardApp", self.app).open_load, self.load)
