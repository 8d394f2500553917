"""What a key press arrives as: to find out what a terminal makes of it before giving it to an act."""

from textual.app import App, ComposeResult
from textual.events import Key
from textual.widgets import Static

from board.app.keymap import why_not
from board.views.text import inert


class Pressing(App[None]):
    """Names each key that is pressed; Ctrl+Q leaves."""

    ENABLE_COMMAND_PALETTE = False

    def compose(self) -> ComposeResult:
        """The last keys, the newest on top."""
        yield Static("Press a key. Ctrl+Q leaves.", id="keys", markup=False)

    def on_mount(self) -> None:
        """Nothing was pressed yet."""
        self._told: list[str] = []

    def on_key(self, event: Key) -> None:
        """Name it, and say whether an act may have it."""
        event.stop()
        why = why_not(event.key)
        self._told.insert(0, f"{inert(event.key)}  {why or 'may be given to an act'}")
        del self._told[self.size.height - 2 :]
        self.query_one(Static).update("\n".join(("Press a key. Ctrl+Q leaves.", *self._told)))
