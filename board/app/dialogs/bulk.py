"""Sales of all items in one go: a number for each, one after another, added or as the total sold so far."""

from collections.abc import Callable, Mapping, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.views.service import ItemLine
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

RECORD = "record"
_EDGES = 11  # lines of the dialog but the list
_HINT = "Enter next line   ↑ ↓ another   Tab added or total   Esc leaves"


class BulkDialog(Dialog[Mapping[str, int]]):
    """Asks for a number of each item; gives how many more were sold of each."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "cursor(-1)", "up"),
        ("down", "cursor(1)", "down"),
        ("tab", "turn", "added or total"),
    ]

    def __init__(self, lines: Sequence[ItemLine], number: Callable[[str], int], undo: str) -> None:
        """`number` reads what is typed, or refuses it; `undo` is the key that takes a sale back."""
        super().__init__()
        self._lines = lines
        self._number = number
        self._undo = undo
        self._typed: dict[str, str] = {}
        self._as_total = False
        self._asked = RECORD  # the item whose number is on the line

    def compose(self) -> ComposeResult:
        """What a number means, the items, and a line to type on."""
        with Vertical(classes="dialog"):
            yield Static("Sales in bulk", classes="heading", markup=False)
            yield Static("", id="means", classes="question", markup=False)
            yield Panel(id="items-sold", choose=True)
            yield Input(id="number", max_length=5)
            yield Static("", classes="wrong", markup=False)
            yield Hint(_HINT)

    def on_mount(self) -> None:
        """Ready for the first item's number."""
        typing = self.query_one(Input)
        typing.cursor_blink = False
        typing.focus()
        self._panel.always_chosen = True
        self._fill()
        self._ask()

    def on_resize(self) -> None:
        """Fit the new size."""
        room = self.size.height * 9 // 10 - _EDGES
        self._panel.styles.height = max(3, min(room, len(self._lines) + 1))

    @property
    def _panel(self) -> Panel:
        return self.query_one("#items-sold", Panel)

    def _fill(self) -> None:
        rows = [*(self._row(line) for line in self._lines), self._record_row()]
        columns = (Column(), Column(right=True), Column(grow=True))
        self._panel.show(Table("", columns, tuple(rows)))
        means = (
            "each number is the total sold so far at this service"
            if self._as_total
            else "each number is added to what was sold before"
        )
        self.query_one("#means", Static).update(f"{means}; Tab changes that")

    def _row(self, line: ItemLine) -> Row:
        typed = self._typed.get(line.item, "")
        if not typed:
            return Row(
                line.item,
                (Cell(line.name, Tone.STRONG), Cell(""), Cell(f"{line.sold} sold so far", Tone.QUIET)),
            )
        added = self._added(line, typed)
        says = f"{line.sold} and {added} more: {line.sold + added}"
        return Row(line.item, (Cell(line.name, Tone.STRONG), Cell(typed, Tone.STRONG), Cell(says, Tone.GOOD)))

    def _record_row(self) -> Row:
        many = sum(bool(typed) for typed in self._typed.values())
        says = f"{many} of {len(self._lines)} typed" if many else "nothing typed yet"
        return Row(RECORD, (Cell("record all", Tone.STRONG), Cell(""), Cell(says, Tone.QUIET)))

    def _added(self, line: ItemLine, typed: str) -> int:
        """How many more were sold than before; raises BoardError where that cannot be."""
        number = self._number(typed)
        if not self._as_total:
            return number
        if number < line.sold:
            raise BoardError(f"{line.sold} {line.name} were sold already; {self._undo} takes a sale back")
        return number - line.sold

    def _keep(self) -> bool:
        """Keep what is typed for the chosen item; whether it could be."""
        typed = self.query_one(Input).value.strip()
        line = next((one for one in self._lines if one.item == self._asked), None)
        if line is None:
            return True
        try:
            if typed:
                self._added(line, typed)
        except BoardError as error:
            self.refuse(str(error))
            return False
        self.refuse("")
        self._typed[line.item] = typed
        self._fill()
        return True

    def _ask(self) -> None:
        """Show what was typed for the chosen item, to be typed over."""
        row = self._panel.chosen
        typing = self.query_one(Input)
        self._asked = row.key if row else RECORD
        name = row.cells[0].text if row else ""
        typing.value = self._typed.get(self._asked, "")
        typing.action_select_all()
        typing.placeholder = "Enter records" if self._asked == RECORD else f"how many portions of {name}"

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """The next line; at the end record all."""
        event.stop()
        self.action_next()

    def action_next(self) -> None:
        """Keep the number and go on; past the last item record all."""
        if self._asked == RECORD:
            self._record()
        elif self._keep():
            self._panel.action_cursor(1)
            self._ask()

    def _record(self) -> None:
        typed = [(line, self._typed.get(line.item, "")) for line in self._lines]
        self.dismiss({line.item: self._added(line, text) for line, text in typed if text})

    def action_cursor(self, by: int) -> None:
        """Keep the number and choose another item."""
        if self._keep():
            self._panel.action_cursor(by)
            self._ask()

    def action_turn(self) -> None:
        """Let numbers be added to what was sold, or be the total; what cannot be that is typed anew."""
        if not self._keep():
            return
        self._as_total = not self._as_total
        for line in self._lines:
            typed = self._typed.get(line.item, "")
            if typed and self._as_total and self._number(typed) < line.sold:
                self._typed[line.item] = ""
        self._fill()
        self._ask()

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another item by mouse: the number on the line stays with its own."""
        message.stop()
        row = self._panel.chosen
        if row is None or row.key == self._asked:
            return
        if self._keep():
            self._ask()
        else:
            self._panel.choose(self._asked)

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A double click on the last line records."""
        message.stop()
        self.action_next()
