"""Entering many temperatures: down the list, digits and Enter at each, all recorded at once at the end."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.dialogs.temperature import Reader, Typed, Whole, example, made_whole
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.views.measuring import Place
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert

Many = Sequence[tuple[str, Typed]]
_MOST_LINES = 14
_COLUMNS = (Column(cut=20), Column(cut=15), Column(right=True), Column())


class TemperaturesDialog(Dialog[Many]):
    """A line each for all that may be measured; Enter and ↓ go on, F2 or Enter on the last line records."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "go(-1)", "up"),
        ("down", "go(1)", "down"),
        ("f2", "record", "record"),
    ]

    def __init__(
        self,
        places: Sequence[Place],
        unit: str,
        read: Reader,
        doubt: Callable[[Place, float], str],
        whole: Whole,
    ) -> None:
        super().__init__()
        self._places = places
        self._unit = unit
        self._read = read
        self._doubt = doubt
        self._whole = whole
        self._typed: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        """The lines, the digits of the chosen one, and what is wrong."""
        with Vertical(classes="dialog"):
            yield Static("Temperatures", classes="heading", markup=False)
            yield Panel(id="places", choose=True)
            yield Input(placeholder=self._asks(), id="degrees", max_length=24)
            yield Static("", classes="wrong", markup=False)
            yield Hint("Enter or ↓ the next line   F2 records all   Esc leaves")

    def _asks(self) -> str:
        unit = self._unit
        return f"degrees {unit}, empty is skipped; {example(unit)} @10 was ten minutes ago"

    def on_mount(self) -> None:
        """Ready for the first digits."""
        self.query_one(Input).cursor_blink = False
        self.query_one(Input).focus()
        self._panel.always_chosen = True
        self._fill()
        self._panel.styles.height = min(_MOST_LINES, self.app.size.height - 11, len(self._places) + 1)

    @property
    def _panel(self) -> Panel:
        return self.query_one("#places", Panel)

    def _fill(self) -> None:
        rows = tuple(self._row(place) for place in self._places)
        self._panel.show(Table("", _COLUMNS, rows, "", "There is nothing to measure yet."))

    def _row(self, place: Place) -> Row:
        typed = made_whole(self._whole, place, self._typed.get(place.key, ""))
        word, tone = self._word(place, typed)
        cells = (
            Cell(inert(place.name), Tone.STRONG),
            Cell(inert(place.last), Tone.QUIET),
            Cell(inert(typed) or "·", Tone.HEAT if typed else Tone.QUIET),
            Cell(word, tone),
        )
        return Row(place.key, cells)

    def _word(self, place: Place, typed: str) -> tuple[str, Tone]:
        """What to say of what was typed: nothing, a doubt, or that it is not understood."""
        if not typed:
            return "", Tone.QUIET
        try:
            doubt = self._doubt(place, self._read(typed).celsius)
        except BoardError:
            return "not understood ▲", Tone.LATE
        return (f"{doubt} ?", Tone.CARE) if doubt else ("", Tone.QUIET)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show the digits on their line, and a word where they are out of reason."""
        row = self._panel.chosen
        if row is not None and event.value.strip() != self._typed.get(row.key, ""):
            self._typed[row.key] = event.value.strip()
            self._fill()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go on to the next line; on the last one record all."""
        event.stop()
        if self._panel.cursor >= len(self._places) - 1:
            self.action_record()
        else:
            self.action_go(1)

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another line, its own digits."""
        message.stop()
        self._take_up()

    def action_go(self, by: int) -> None:
        """Another line."""
        self._panel.action_cursor(by)
        self._take_up()

    def _take_up(self) -> None:
        """Put the digits of the chosen line into the line to type in."""
        row, line = self._panel.chosen, self.query_one(Input)
        line.value = self._typed.get(row.key, "") if row is not None else ""
        line.cursor_position = len(line.value)

    def action_record(self) -> None:
        """Give all that was typed, or go to the first line that is not understood."""
        found: list[tuple[str, Typed]] = []
        for place in self._places:
            typed = made_whole(self._whole, place, self._typed.get(place.key, ""))
            try:
                if typed:
                    found.append((place.key, self._read(typed)))
            except BoardError as error:
                self._panel.choose(place.key)
                self._take_up()
                self.refuse(str(error))
                return
        self.dismiss(found or None)
