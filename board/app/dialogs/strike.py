"""From when to when what a probe sent does not count: two clock times, and what they take."""

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.errors import BoardError
from board.views.fed_strike import Struck

Typed = tuple[str, str]
_HINT = "Tab the other time   ↑ ↓ a minute   PgUp PgDn ten minutes\nEnter goes on   Esc leaves"
_FROM, _TO = "from", "to"


class StrikeDialog(Dialog[Typed]):
    """Gives both times as they were typed; `tell` says what they take, and raises BoardError for no times.

    `later` gives a typed time so many minutes on.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "move(-1)", "a minute earlier"),
        ("down", "move(1)", "a minute later"),
        ("pageup", "move(-10)", "ten minutes earlier"),
        ("pagedown", "move(10)", "ten minutes later"),
    ]

    def __init__(
        self,
        probe: str,
        offered: Typed,
        tell: Callable[[str, str], Struck],
        later: Callable[[str, int], str],
    ) -> None:
        super().__init__()
        self._probe = probe
        self._offered = offered
        self._tell = tell
        self._later = later

    def compose(self) -> ComposeResult:
        """The two times, what they take, and what stays beside that."""
        with Vertical(classes="dialog"):
            yield Static(f"What of {self._probe} does not count?", classes="heading", markup=False)
            yield Static(
                "It stays on record; no chart, sum or proof takes it.", classes="question", markup=False
            )
            with Horizontal(id="span"):
                for id, time in zip((_FROM, _TO), self._offered, strict=True):
                    yield Static(id, classes="end", markup=False)
                    yield Input(time, id=id, max_length=25, select_on_focus=True)
            yield Static("", id="takes", classes="meant", markup=False)
            yield Static("", id="beside", classes="question", markup=False)
            yield Static("", classes="wrong", markup=False)
            yield Hint(_HINT)

    def on_mount(self) -> None:
        """Ready for the first time."""
        for line in self.query(Input):
            line.cursor_blink = False
        self.query_one(f"#{_FROM}", Input).focus()
        self._show()

    @property
    def _typed(self) -> Typed:
        since, until = (self.query_one(f"#{id}", Input).value for id in (_FROM, _TO))
        return since, until

    def on_input_changed(self) -> None:
        """Say what the times take as they stand."""
        self._show()

    def _show(self) -> None:
        self.refuse("")
        try:
            told = self._tell(*self._typed)
        except BoardError:
            told = Struck()
        self.query_one("#takes", Static).update(told.takes)
        self.query_one("#beside", Static).update(told.beside)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go on where something is struck, else say what is wrong."""
        event.stop()
        try:
            told = self._tell(*self._typed)
        except BoardError as error:
            self.refuse(str(error))
            return
        if told.readings:
            self.dismiss(self._typed)
        else:
            self.refuse("Type other times, or leave by Esc")

    def action_move(self, minutes: int) -> None:
        """Move the time that is typed on."""
        line = self.focused
        if not isinstance(line, Input):
            return
        try:
            line.value = self._later(line.value, minutes)
        except BoardError as error:
            self.refuse(str(error))
