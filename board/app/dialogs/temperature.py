"""Entering a temperature: the place is chosen already, so digits and Enter are enough."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint, Keypad
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.views.measuring import Place
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert

_ROOMY = 32  # lines of a screen that leave room for gaps
_EDGES, _GAPS = 8, 7  # lines of the frame and its parts, and those left blank or for a finger
_MOST = 10


@dataclass(frozen=True, slots=True)
class Typed:
    """A temperature as it was typed, and when it was taken; `at` is None where that is now."""

    celsius: float
    at: datetime | None = None


Reader = Callable[[str], Typed]
"""What was typed; raises BoardError where it is no temperature."""
Whole = Callable[[Place, str], str]
"""A figure made whole from the digits typed of it."""
AT = "@"  # between degrees and when they were read


class TemperatureDialog(Dialog[tuple[str, Typed]]):
    """Digits are degrees of the house's scale; ↑ and ↓ choose another place."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
    ]

    def __init__(
        self,
        places: Sequence[Place],
        chosen: str,
        unit: str,
        reader: Reader,
        whole: Whole,
        *,
        clock: str,
    ) -> None:
        """`clock` is a time of day as the house tells it."""
        super().__init__()
        self._places = places
        self._clock = clock
        self._start = chosen
        self._unit = unit
        self._reader = reader
        self._whole = whole

    def compose(self) -> ComposeResult:
        """The places, the digits, and what is wrong with them."""
        ago = f"{example(self._unit)} @10"
        with Vertical(classes="dialog"):
            yield Static("Temperature", classes="heading", markup=False)
            yield Panel(id="places", choose=True)
            yield Input(placeholder=f"degrees {self._unit}", id="degrees", max_length=24)
            yield Keypad()
            yield Static("", classes="meant", markup=False)
            yield Static("", classes="wrong", markup=False)
            yield Hint(
                "↑ ↓ another place   Enter records   Esc leaves\n"
                f"{ago} was ten minutes ago, {example(self._unit)} @{self._clock} at that time"
            )

    def on_mount(self) -> None:
        """Ready for digits."""
        self.query_one(Input).cursor_blink = False
        self.query_one(Input).focus()
        rows = tuple(
            Row(p.key, (Cell(inert(p.name), Tone.STRONG), Cell(inert(p.about), Tone.QUIET)))
            for p in self._places
        )
        panel = self.query_one("#places", Panel)
        panel.show(Table("", (Column(cut=24), Column()), rows, "", "There is nothing to measure yet."))
        panel.always_chosen = True
        panel.choose(self._start)

    def on_resize(self) -> None:
        """Fit the new size: the line to type on and what leaves it are always in sight."""
        short = self.size.height < _ROOMY
        self.set_class(short, "short")
        room = self.size.height * 9 // 10 - _EDGES - (0 if short else _GAPS)
        panel = self.query_one("#places", Panel)
        panel.styles.height = max(2, min(_MOST, len(self._places) + 1, room))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Give the reading, or say what is wrong with it."""
        event.stop()
        row = self.query_one("#places", Panel).chosen
        if row is None:
            self.dismiss(None)
            return
        try:
            self.dismiss((row.key, self._reader(self._meant(event.value))))
        except BoardError as error:
            self.refuse(str(error))

    def _meant(self, typed: str) -> str:
        """What was typed, its figure made whole by what the chosen place read last."""
        row = self.query_one("#places", Panel).chosen
        place = next((place for place in self._places if row and place.key == row.key), None)
        return made_whole(self._whole, place, typed) if place else typed

    def on_input_changed(self, event: Input.Changed) -> None:
        """Say what digits are taken for, where that is more than was typed."""
        self._tell_whole(event.value)

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another place may make another figure of the same digits."""
        message.stop()
        self._tell_whole(self.query_one(Input).value)

    def _tell_whole(self, typed: str) -> None:
        figure, whole = (text.partition(AT)[0].strip() for text in (typed, self._meant(typed)))
        says = f"{whole} {self._unit}, going by its last; 0{figure} for {figure}" if whole != figure else ""
        self.query_one(".meant", Static).update(says)

    def action_cursor(self, by: int) -> None:
        """Choose another place while the line keeps the digits."""
        self.query_one("#places", Panel).action_cursor(by)


def made_whole(whole: Whole, place: Place, typed: str) -> str:
    """What was typed with its figure made whole, and when it was read as it was typed."""
    figure, at, ago = typed.partition(AT)
    return f"{whole(place, figure.strip())}{' ' if at else ''}{at}{ago}"


def example(unit: str) -> str:
    """A core in the middle of a cook, in the house's unit, to show how one is typed."""
    return {"°F": "150"}.get(unit, "65")
