"""The Batches view on the screen."""

from collections.abc import Iterable

from textual.containers import Horizontal
from textual.widget import Widget

from board.app import acting
from board.app.keys import BATCHES, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.views import batches_tables as tables
from board.views.batches import batches
from board.views.facts import Facts
from board.views.table import Table, share


class BatchesScreen(ViewScreen):
    """Whoever makes brines, cures, rubs and glazes sees what is due and what to weigh."""

    NAME = "batches"
    ACTS = BATCHES
    BINDINGS = bindings(BATCHES)
    AUTO_FOCUS = "#list"

    def body(self) -> Iterable[Widget]:
        """The list over the card of the chosen batch."""
        yield Panel(id="list", choose=True)
        yield Horizontal(Panel(id="weigh"), Panel(id="made"), id="recipe")

    def refill(self, facts: Facts) -> None:
        """Fill the list and the card."""
        row = self.panel("list").chosen
        view = batches(facts, row.key if row else "")
        self.panel("list").show(tables.list_table(view))
        empty = Table("", (), ())
        self.panel("weigh").show(tables.weighing_table(view.card) if view.card else empty)
        self.panel("made").show(tables.says_table(view.card) if view.card else empty)

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another batch's card."""
        message.stop()
        self.refill(self.board.facts)
        self.fit_body()

    def fit_body(self) -> None:
        """The card below takes what it needs; a long list gives way first."""
        width = self.size.width - 2
        half = max(24, width * 2 // 5)
        wants = [
            self.panel("list").wanted_height(width),
            max(self.panel("weigh").wanted_height(half), self.panel("made").wanted_height(width - half - 3)),
        ]
        upper, lower = share(self.room - 2, wants, [4, 4])
        self.panel("list").styles.height = upper
        for id in ("weigh", "made"):
            self.panel(id).styles.height = lower
        self.panel("weigh").styles.width = half

    def go_to(self, row: str) -> None:
        """Put the cursor on a batch that was found."""
        self.panel("list").choose(row)

    def _key(self) -> str:
        row = self.panel("list").chosen
        return row.key if row else ""

    def action_likely(self) -> None:
        """Mark the chosen batch made, then used."""
        key = self._key()
        if key:
            self.board.record(lambda: acting.mark_batch(self.board.session, self.board.facts, key))

    def action_discard(self) -> None:
        """Mark the chosen batch discarded."""
        key = self._key()
        if key:
            self.board.record(lambda: acting.discard_batch(self.board.session, key))
