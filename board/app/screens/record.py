"""The Record view on the screen."""

from collections.abc import Iterable

from textual.widget import Widget

from board.app.keys import RECORD, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.views.facts import Facts
from board.views.record import Kind, record
from board.views.record_tables import record_table


class RecordScreen(ViewScreen):
    """Anyone reads back what was recorded, by whom, and what was taken back."""

    NAME = "record"
    ACTS = RECORD
    BINDINGS = bindings(RECORD)
    AUTO_FOCUS = "#lines"

    _kind = Kind.ALL

    def body(self) -> Iterable[Widget]:
        """One list."""
        yield Panel(id="lines", choose=True)

    def refill(self, facts: Facts) -> None:
        """Read the newest entries."""
        view = record(self.board.session.ledger, facts, self._kind, revised=self.board.revised)
        self.panel("lines").show(record_table(view))

    def fit_body(self) -> None:
        """The list takes the room."""
        self.panel("lines").styles.height = max(3, self.room - 1)

    def go_to(self, row: str) -> None:
        """Put the cursor on an entry that was found."""
        self.panel("lines").choose(row)

    def action_kind(self) -> None:
        """Show the next kind of entry only."""
        kinds = list(Kind)
        self._kind = kinds[(kinds.index(self._kind) + 1) % len(kinds)]
        self.refill(self.board.facts)
