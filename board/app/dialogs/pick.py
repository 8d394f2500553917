"""A list to pick from; typing narrows it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to pick: its key, what it is called, and a word about it."""

    key: str
    name: str
    about: str = ""


class Pick(Dialog[str]):
    """Shows choices; letters narrow them, arrows choose, Enter picks, Esc leaves."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
    ]
    HINT = "Enter picks   Esc leaves"

    def __init__(self, heading: str, choices: Sequence[Choice], chosen: str = "") -> None:
        super().__init__()
        self._heading = heading
        self._choices = [Choice(c.key, inert(c.name), inert(c.about)) for c in choices]
        self._start = chosen

    def compose(self) -> ComposeResult:
        """A heading, a line to narrow by, and the choices."""
        with Vertical(classes="dialog"):
            yield Static(self._heading, classes="heading", markup=False)
            yield Input(placeholder="type to narrow the list", id="narrow")
            yield Panel(id="choices", choose=True)
            yield Hint(self.HINT)

    def on_mount(self) -> None:
        """All choices, the one in force under the cursor."""
        self.query_one(Input).cursor_blink = False
        self.query_one(Input).focus()
        self._panel.always_chosen = self._panel.one_press = True
        self._fill("")
        self._panel.choose(self._start)

    @property
    def _panel(self) -> Panel:
        return self.query_one("#choices", Panel)

    def _fill(self, typed: str) -> None:
        words = typed.lower().split()
        kept = [c for c in self._choices if all(w in f"{c.name} {c.about}".lower() for w in words)]
        rows = tuple(Row(c.key, (Cell(c.name, Tone.STRONG), Cell(c.about, Tone.QUIET))) for c in kept)
        self._panel.show(Table("", (Column(), Column(grow=True)), rows, "", "Nothing of that name."))
        self._panel.styles.height = min(16, len(rows) + 2)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Narrow the list."""
        self._fill(event.value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Pick what the cursor is on."""
        event.stop()
        self._pick()

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A press picks too."""
        message.stop()
        self._pick()

    @property
    def chosen(self) -> Row | None:
        """What the cursor is on."""
        return self._panel.chosen

    def _pick(self) -> None:
        row = self.chosen
        if row is not None:
            self.dismiss(row.key)

    def action_cursor(self, by: int) -> None:
        """Move through the choices while the line keeps the letters."""
        self._panel.action_cursor(by)
