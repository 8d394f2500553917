"""The list of promises, whose numbers and times are typed in their own line."""

from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar

from textual.binding import BindingType
from textual.events import Key
from textual.message import Message

from board.app.widgets.panel import Panel
from board.views.promises import Promise, Typing, promises_table, take_order_row

NUMBER, TIME = "number", "time"
_LETTERS = {NUMBER: "0123456789", TIME: "0123456789:.amp "}
_LONGEST = {NUMBER: 5, TIME: 8}

Take = Callable[[Typing], bool]
"""Takes what was typed; whether it was taken, so that the field may close."""


class PromisesPanel(Panel, inherit_bindings=True):
    """Enter opens a line's number, Tab its time; Enter takes it, arrows take it and go on, Esc leaves."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("plus,equals_sign", "add", "take an order"),
        ("delete,backspace,minus", "strike", "strike the order"),
    ]

    class Add(Message):
        """An order is to be taken."""

    class Strike(Message):
        """The chosen line's order is to be struck."""

        def __init__(self, line: Promise) -> None:
            super().__init__()
            self.line = line

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id, choose=True)
        self._promises: tuple[Promise, ...] = ()
        self._typing: Typing | None = None
        self.take: Take = lambda _: True

    def fill(self, lines: tuple[Promise, ...]) -> None:
        """Show these promises, what is being typed still in its place."""
        self._promises = lines
        if self._typing and all(line.key != self._typing.key for line in lines):
            self._typing = None
        self._show(self._typing)

    @property
    def line(self) -> Promise | None:
        """The chosen promise."""
        key = self.chosen.key if self.chosen else ""
        return next((line for line in self._promises if line.key == key), None)

    @property
    def typing(self) -> bool:
        """Whether a field is open."""
        return self._typing is not None

    def edit(self, field: str = NUMBER) -> None:
        """Open a field of the chosen line."""
        if self.line is not None:
            self.screen.set_focus(self)  # what is typed next is for the field
            self._show(Typing(self.line.key, field, ""))
        else:
            self.action_add()

    def _show(self, typing: Typing | None) -> None:
        self._typing = typing
        table = promises_table(self._promises, typing)
        self.show(replace(table, rows=(*table.rows, take_order_row())))

    def on_blur(self) -> None:
        """What was not taken is left as it was."""
        self._show(None)
        super().on_blur()

    def on_key(self, event: Key) -> None:
        """While a field is open every key is for it."""
        typing = self._typing
        if typing is None:
            if event.key == "tab" and self.line is not None:
                event.stop()
                event.prevent_default()
                self.edit(TIME)
            return
        event.stop()
        event.prevent_default()
        letter = (event.character or "").lower()
        if event.key == "escape":
            self._show(None)
        elif event.key in ("tab", "left", "right"):
            self._show(Typing(typing.key, TIME if typing.field == NUMBER else NUMBER, ""))
        elif event.key in ("enter", "down", "up"):
            self._taken(typing, {"down": 1, "up": -1}.get(event.key, 0))
        elif event.key == "backspace":
            self._show(Typing(typing.key, typing.field, typing.text[:-1]))
        elif letter and letter in _LETTERS[typing.field] and len(typing.text) < _LONGEST[typing.field]:
            self._show(Typing(typing.key, typing.field, typing.text + letter))

    def _taken(self, typing: Typing, go_on: int) -> None:
        """Take what was typed; with an arrow the same field of the next line opens."""
        if typing.text and not self.take(typing):
            return
        self._show(None)
        if go_on:
            self.action_cursor(go_on)
            self.edit(typing.field)

    def action_add(self) -> None:
        """Take an order for the day."""
        self.post_message(self.Add())

    def action_strike(self) -> None:
        """Strike the chosen line's order."""
        if self.line is not None:
            self.post_message(self.Strike(self.line))
