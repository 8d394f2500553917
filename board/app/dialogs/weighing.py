"""A batch on the scale: the next line large, a tick for each, a second reader for a cure, then the lot."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.events import Key
from textual.message import Message
from textual.widgets import Digits, Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.dialogs.pick import Choice, Pick
from board.app.typed import is_bare, mass_kg
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, wrapped
from board.views.weighing import Scale, ScaleLine

MADE, NOBODY = "made", "nobody"
_ROOMY = 32  # lines of a screen that leave room for gaps
_EDGES, _GAPS = 10, 6  # lines of the dialog but the list, what is minded and the gaps
_LEAST, _MINDED = 3, 4  # lines of the list, and of what is minded at most where room is short
_WIDE, _SIDES = 72, 6  # columns of the frame at its widest, and of its sides
_FAR = 5.0  # times what was asked: a bare number so far off may be of another unit
_HINT = "Enter as told   Space skips   ↑ ↓ another line   Esc leaves"


@dataclass(frozen=True, slots=True)
class Scaled:
    """What the dialog is about: the batch's name, for what, the lot it would get, and who else may read."""

    title: str
    aside: str
    lot: str
    readers: tuple[Choice, ...]


Tick = Callable[[ScaleLine, float, str | None], Scale]
"""Records what a line weighed and who else read it, and gives the batch on the scale anew."""


class ScaleInput(Input):
    """A line for what the scale shows; a space in front of anything typed skips."""

    class Skipped(Message):
        """The line is left for later."""

    async def _on_key(self, event: Key) -> None:
        if event.key == "space" and not self.value:
            event.stop()
            event.prevent_default()
            self.post_message(self.Skipped())
            return
        await super()._on_key(event)


class WeighingDialog(Dialog[str]):
    """Weighs a batch line by line; gives the lot once it is made, None when it is left."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
    ]

    def __init__(self, about: Scaled, scale: Scale, tick: Tick) -> None:
        super().__init__()
        self._about = about
        self._scale = scale
        self._tick = tick
        self._minded = ""

    def compose(self) -> ComposeResult:
        """The next line large, the list, and a line to type on."""
        with Vertical(classes="dialog"):
            yield Static("", classes="heading", markup=False)
            yield Static("", id="asked", classes="question", markup=False)
            with Horizontal(id="large"):
                yield Digits("", id="amount")
                yield Static("", id="unit", markup=False)
            yield Panel(id="lines", choose=True)
            yield Static("", id="total", classes="question", markup=False)
            yield ScaleInput(id="shown", max_length=80, select_on_focus=False)
            yield Static("", classes="wrong", markup=False)
            yield Hint(_HINT)

    def on_mount(self) -> None:
        """The first line not weighed, ready to tick."""
        line = self.query_one(ScaleInput)
        line.cursor_blink = False
        line.focus()
        self._lines.always_chosen = True
        self._fill()
        self._to_next(after=0)

    def show(self, scale: Scale) -> None:
        """Show what somebody else has weighed meanwhile; the line under the cursor stays."""
        if scale != self._scale:
            self._scale = scale
            self._fill()

    def on_resize(self) -> None:
        """Fit the new size."""
        self._fit()

    @property
    def _lines(self) -> Panel:
        return self.query_one("#lines", Panel)

    @property
    def _chosen(self) -> ScaleLine | None:
        """The line under the cursor; None where that is the making."""
        row = self._lines.chosen
        return next((line for line in self._scale.lines if row and row.key == str(line.line)), None)

    def _fill(self) -> None:
        rows = [_row(line) for line in self._scale.lines]
        ready = Tone.STRONG if not self._scale.left else Tone.QUIET
        made = (Cell("made", ready), Cell(""), Cell(f"lot {self._about.lot}", Tone.QUIET))
        columns = (Column(), Column(right=True), Column(grow=True))
        self._lines.show(Table("", columns, (*rows, Row(MADE, made))))
        self.query_one("#total", Static).update(self._scale.total)
        self.query_one(".heading", Static).update(f"{self._about.title}, {self._about.aside}")
        self._mind("; ".join(self._scale.minds))

    def _fit(self) -> None:
        """The list gives way to what is minded; gaps go first."""
        short = self.size.height < _ROOMY
        self.set_class(short, "short")
        width = max(20, min(self.size.width * 94 // 100, _WIDE) - _SIDES)
        minded = len(wrapped(self._minded, width)) if self._minded else 0
        edges = _EDGES + (min(minded, _MINDED) if short else minded + _GAPS)
        room = max(_LEAST, self.size.height * 9 // 10 - edges)
        self._lines.styles.height = min(room, len(self._scale.lines) + 1)

    def _to_next(self, after: int) -> None:
        """Go on to the next line not weighed, round from the first; to the making when none is left."""
        left = [line.line for line in self._scale.left]
        later = [line for line in left if line > after] or left
        self._lines.choose(str(later[0]) if later else MADE)
        self._show_next()

    def _show_next(self) -> None:
        line = self._chosen
        typing = self.query_one(ScaleInput)
        number, _, unit = line.amount.partition(" ") if line else ("", "", "")
        self.query_one("#large").display = line is not None
        self.query_one("#amount", Digits).update(number)
        self.query_one("#unit", Static).update(f"{unit}\n\n{line.about}" if line else "")
        self.query_one("#asked", Static).update(self._question(line))
        typing.value = self._about.lot if line is None else ""
        typing.placeholder = "" if line is None else f"as told, or how many {unit}"
        if line is None:
            typing.action_select_all()

    def _question(self, line: ScaleLine | None) -> str:
        if line is None:
            left = len(self._scale.left)
            unticked = f"{left} of {len(self._scale.lines)} not weighed. " if left else ""
            return f"{unticked}Made? Enter keeps it under this lot; another may be typed."
        cure = "; a second person reads it" if line.is_cure else ""
        done = "weighed already; again: " if line.grams is not None else "weigh "
        return f"{done}{line.name}{cure}"

    def _mind(self, sentence: str) -> None:
        self._minded = sentence
        self.refuse(sentence)
        self._fit()

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another line is chosen, by key or mouse."""
        message.stop()
        self._show_next()

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A double click ticks too."""
        message.stop()
        self.action_submit()

    def on_scale_input_skipped(self, message: ScaleInput.Skipped) -> None:
        """Leave this line for later."""
        message.stop()
        self.action_skip()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Tick what the scale shows."""
        event.stop()
        self.action_submit()

    def action_submit(self) -> None:
        """Weighed as told or as typed; a cure asks who else read it; the last row makes the batch."""
        line, typed = self._chosen, self.query_one(ScaleInput).value.strip()
        if line is None:
            self.dismiss(typed or self._about.lot)
            return
        try:
            grams = line.asked_g if not typed else grams_typed(typed, line)
        except BoardError as error:
            self._mind(str(error))
            return
        if not line.is_cure:
            self._record(line, grams, None)
            return
        heading = f"Who else read {line.name}, {typed or line.amount}?"
        # nobody first: an Enter too many must not make a reader of someone who was not there
        choices = [Choice(NOBODY, "nobody", "it stays marked as read by one person"), *self._about.readers]
        self.app.push_screen(Pick(heading, choices), lambda who: self._read(line, grams, who))

    def _read(self, line: ScaleLine, grams: float, reader: str | None) -> None:
        if reader is not None:
            self._record(line, grams, None if reader == NOBODY else reader)

    def _record(self, line: ScaleLine, grams: float, reader: str | None) -> None:
        try:
            self._scale = self._tick(line, grams, reader)
        except BoardError as error:
            self._mind(str(error))
            return
        self._fill()
        self._to_next(line.line)

    def action_skip(self) -> None:
        """Leave this line for later; the making follows the last."""
        rows = [str(line.line) for line in self._scale.lines if line.grams is None] + [MADE]
        row = self._lines.chosen
        at = rows.index(row.key) if row and row.key in rows else -1
        self._lines.choose(rows[(at + 1) % len(rows)])
        self._show_next()

    def action_cursor(self, by: int) -> None:
        """Choose another line."""
        self._lines.action_cursor(by)


def _row(line: ScaleLine) -> Row:
    tone = Tone.STRONG if line.grams is None else Tone.QUIET
    says = Cell(line.says, line.tone) if line.says else Cell(line.about, Tone.QUIET)
    return Row(str(line.line), (Cell(line.name, tone), Cell(line.weighed or line.amount, tone), says))


def grams_typed(typed: str, line: ScaleLine) -> float:
    """What was typed in grams: a bare number is in the unit the line is told in, another may be written out.

    Raises:
        QuantityError: not a mass.
        BoardError: a bare number so far from what was asked that it may be of another unit.
    """
    text, unit = typed.strip(), line.amount.rpartition(" ")[2]
    grams = round(mass_kg(text, unit) * 1_000, 3)
    if is_bare(text) and not line.asked_g / _FAR <= grams <= line.asked_g * _FAR:
        raise BoardError(f"{text} {unit} for {line.amount}? write the unit, such as {text} g or {text} kg")
    return grams
