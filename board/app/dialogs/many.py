"""Many steps at once: Space ticks, a ticks a whole kind, Enter marks them, now or at the time typed."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.events import Key
from textual.message import Message
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.views.marking import Markable
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

_EDGES = 11  # lines of the dialog but the list
_HINT = "Space ticks   a all of its kind   Enter marks   Esc leaves"
_DOES = {"space": "tick", "a": "kind"}  # as keys they may be typed on the line


@dataclass(frozen=True, slots=True)
class Ticked:
    """What is to be marked, and the time typed; empty for now."""

    keys: tuple[str, ...]
    when: str


class TimeInput(Input):
    """A line for a time; while nothing is typed on it, Space and a tick instead."""

    class Tick(Message):
        """The chosen line, or all of its kind, is ticked."""

        def __init__(self, *, kind: bool) -> None:
            super().__init__()
            self.kind = kind

    async def _on_key(self, event: Key) -> None:
        if event.key in ("space", "a") and not self.value:
            event.stop()
            event.prevent_default()
            self.post_message(self.Tick(kind=event.key == "a"))
            return
        await super()._on_key(event)


class ManyDialog(Dialog[Ticked]):
    """Ticks steps in a list; gives those ticked, or the chosen one where none is."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
        ("pageup", "cursor(-10)", "page up"),
        ("pagedown", "cursor(10)", "page down"),
    ]

    def __init__(
        self, steps: Sequence[Markable], check: Callable[[str], object], clock: str, chosen: str = ""
    ) -> None:
        """`clock` is a time of day as the house tells it."""
        super().__init__()
        self._clock = clock
        self._steps = steps
        self._check = check
        self._start = chosen
        self._ticked: set[str] = set()

    def compose(self) -> ComposeResult:
        """The steps, and a line for a time."""
        with Vertical(classes="dialog"):
            yield Static("Mark many", classes="heading", markup=False)
            yield Static("", id="count", classes="question", markup=False)
            yield Panel(id="steps", choose=True)
            yield TimeInput(
                placeholder=f"now; or how long ago, as 10, 1 h 10 or {self._clock}", id="time", max_length=20
            )
            yield Static("", classes="wrong", markup=False)
            yield Hint(_HINT, does=_DOES)

    def on_mount(self) -> None:
        """Ready to tick, on the step that was chosen."""
        typing = self.query_one(TimeInput)
        typing.cursor_blink = False
        typing.focus()
        self._panel.always_chosen = True
        self._fill()
        self._panel.choose(self._start)

    def on_resize(self) -> None:
        """Fit the new size."""
        self._fit()

    @property
    def _panel(self) -> Panel:
        return self.query_one("#steps", Panel)

    @property
    def _chosen(self) -> Markable | None:
        row = self._panel.chosen
        return next((one for one in self._steps if row and one.key == row.key), None)

    def _fill(self) -> None:
        rows = tuple(_row(one, ticked=one.key in self._ticked) for one in self._steps)
        columns = (Column(), Column(right=True), Column(grow=True))
        self._panel.show(Table("", columns, rows, "", "Nothing is due now or soon."))
        self.query_one("#count", Static).update(self._count())
        self._fit()

    def _count(self) -> str:
        if self._ticked:
            return f"{len(self._ticked)} ticked"
        return "none ticked: Enter marks the chosen one" if self._steps else ""

    def _fit(self) -> None:
        room = self.size.height * 9 // 10 - _EDGES
        self._panel.styles.height = max(3, min(room, self._panel.wanted_height(self._panel.size.width or 60)))

    def on_time_input_tick(self, message: TimeInput.Tick) -> None:
        """Space or a."""
        message.stop()
        if message.kind:
            self.action_kind()
        else:
            self.action_tick()

    def action_tick(self) -> None:
        """Tick the chosen step, or take its tick off, and go on to the next."""
        one = self._chosen
        if one is not None:
            self._ticked ^= {one.key}
            self._fill()
            self._panel.action_cursor(1)

    def action_kind(self) -> None:
        """Tick all of the chosen step's kind that are due soon; where all are ticked, none.

        On a step that is not due soon, all of its kind.
        """
        one = self._chosen
        if one is not None:
            same = {s.key for s in self._steps if s.kind == one.kind and (s.soon or not one.soon)}
            self._ticked = self._ticked - same if same <= self._ticked else self._ticked | same
            self._fill()

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A double click ticks."""
        message.stop()
        self.action_tick()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter marks."""
        event.stop()
        self.action_submit()

    def action_submit(self) -> None:
        """Give what is ticked with its time, or say what is wrong with that."""
        typed, one = self.query_one(TimeInput).value.strip(), self._chosen
        keys = tuple(step.key for step in self._steps if step.key in self._ticked)
        keys = keys or ((one.key,) if one else ())
        try:
            if typed:
                self._check(typed)
        except BoardError as error:
            self.refuse(str(error))
            return
        self.dismiss(Ticked(keys, typed) if keys else None)

    def action_cursor(self, by: int) -> None:
        """Choose another step while the line keeps what is typed."""
        self._panel.action_cursor(by)


def _row(one: Markable, *, ticked: bool) -> Row:
    tick = Cell("[x]" if ticked else "[ ]", Tone.STRONG if ticked else Tone.QUIET)
    clock = Cell(f"{one.clock} ▲" if one.overdue else one.clock, Tone.LATE if one.overdue else Tone.QUIET)
    return Row(one.key, (tick, clock, Cell(one.says, Tone.STRONG if ticked else Tone.PLAIN)))
