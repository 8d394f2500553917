"""A few answers, each by one key; where it is allowed, words of one's own instead."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


class Quick(Dialog[str]):
    """Answers with the chosen answer as it stands, or with what was typed; 1, 2, 3 choose at once."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("enter", "pick", "choose"),
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
        *((str(number), f"number({number})", f"the {number}") for number in range(1, 10)),
    ]

    def __init__(self, heading: str, question: str, answers: Sequence[str], *, free: bool = False) -> None:
        super().__init__()
        self._heading, self._question = heading, question
        self._answers, self._free = tuple(answers), free

    def compose(self) -> ComposeResult:
        """What is asked, the answers with their numbers, and the line for other words."""
        with Vertical(classes="dialog"):
            yield Static(self._heading, classes="heading", markup=False)
            yield Static(self._question, classes="question", markup=False)
            yield Panel(id="answers", choose=True)
            if self._free:
                yield Input(placeholder="or in your own words", id="answer")
            own = ", or type and Enter" if self._free else ""
            yield Hint(f"Enter picks, numbers 1 to {len(self._answers)} too{own}   Esc leaves")

    def on_mount(self) -> None:
        """The first answer under the cursor."""
        rows = tuple(
            Row(says, (Cell(str(number), Tone.HEAD), Cell(says)))
            for number, says in enumerate(self._answers, 1)
        )
        panel = self.query_one("#answers", Panel)
        panel.always_chosen = panel.one_press = True
        panel.show(Table("", (Column(), Column(grow=True)), rows))
        panel.styles.height = len(rows)
        if self._free:
            line = self.query_one(Input)
            line.cursor_blink = False
            line.focus()
        else:
            panel.focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """A number typed first chooses at once."""
        if event.value.isascii() and event.value.isdigit():
            self.action_number(int(event.value))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """What was typed, else the answer under the cursor."""
        event.stop()
        if event.value.strip():
            self.dismiss(event.value.strip())
        else:
            self.action_pick()

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A press chooses too."""
        message.stop()
        self.action_pick()

    def action_number(self, number: int) -> None:
        """Choose by number."""
        if 1 <= number <= len(self._answers):
            self.dismiss(self._answers[number - 1])

    def action_pick(self) -> None:
        """Choose what the cursor is on."""
        row = self.query_one("#answers", Panel).chosen
        if row is not None:
            self.dismiss(row.key)

    def action_cursor(self, by: int) -> None:
        """Another answer."""
        self.query_one("#answers", Panel).action_cursor(by)
