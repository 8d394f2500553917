"""The Service view on the screen."""

from collections.abc import Iterable
from datetime import timedelta

from textual.widget import Widget

from board.app import acting
from board.app.dialogs.ask import Ask
from board.app.keys import SERVICE, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.views import names
from board.views.checks import checks
from board.views.facts import Facts
from board.views.service import Service, service
from board.views.service_tables import items_table, orders_table
from board.views.table import share
from board.views.text import Tone

_SOON = timedelta(minutes=15)


class ServiceScreen(ViewScreen):
    """Whoever stands at the pass keeps portions, sales and steps true with single keys."""

    NAME = "service"
    ACTS = SERVICE
    BINDINGS = bindings(SERVICE)
    AUTO_FOCUS = "#items"

    _view: Service | None = None

    def body(self) -> Iterable[Widget]:
        """The items over the orders."""
        yield Panel(id="items", choose=True)
        yield Panel(id="orders")

    def refill(self, facts: Facts) -> None:
        """A row an item."""
        self._view = service(facts, self.board.revised, self.board.advising.worked_out)
        self.panel("items").show(items_table(self._view))
        self.panel("orders").show(orders_table(self._view))

    def fit_body(self) -> None:
        """The items first, and the orders in what room is left."""
        width, orders = self.size.width - 2, bool(self._view and self._view.orders)
        wants = [self.panel(id).wanted_height(width) for id in ("items", "orders")]
        items, below = share(self.room - 2, wants, [8, 4]) if orders else (max(3, self.room - 1), 0)
        self.panel("items").styles.height = items
        self.panel("orders").styles.height = below
        self.panel("orders").display = orders

    def quiet_word(self) -> str:
        """The reading that is due, or what a person may forget here."""
        facts = self.board.facts
        waiting = checks(facts, facts.now + _SOON)
        if waiting:
            return f"due {names.clock(facts.house, waiting[0].at)}: {waiting[0].says}"
        return "Enter marks the step under the chosen item; s and a number records a sale."

    def _item(self) -> str:
        row = self.panel("items").chosen
        return row.key if row else ""

    def chosen_load(self) -> str:
        """The next load of the chosen item."""
        line = next((ln for ln in self._view.lines if ln.item == self._item()), None) if self._view else None
        return line.load if line else ""

    def action_remedies(self) -> None:
        """See what would help the chosen item's load in trouble, or its next; else the first in trouble."""
        lines = self._view.lines if self._view else ()
        own = next((line.troubled or line.load for line in lines if line.item == self._item()), "")
        asked = (own, *(line.troubled for line in lines))
        self.board.open_remedies(next(filter(self.board.cooks, asked), own))

    def action_likely(self) -> None:
        """Mark the next step of the chosen item's loads."""
        line = next((ln for ln in self._view.lines if ln.item == self._item()), None) if self._view else None
        if line is None or not line.step:
            self.board.say("nothing is left to do for this item", Tone.CARE)
            return
        self.board.record(lambda: acting.mark_step(self.board.session, line.step))

    def action_sell_one(self) -> None:
        """Record one portion sold."""
        self._sell("1")

    def action_sell(self) -> None:
        """Ask how many were sold."""
        row = self.panel("items").chosen
        if row:
            self.app.push_screen(
                Ask("Sold", f"How many portions of {row.cells[0].text}?", check=portions), self._sell
            )

    def _sell(self, typed: str | None) -> None:
        item = self._item()
        if typed and item:
            board = self.board
            board.record(lambda: acting.sell(board.session, board.facts, item, portions(typed)))

    def action_sold_out(self) -> None:
        """Mark the chosen item sold out."""
        item = self._item()
        if item:
            self.board.record(lambda: acting.sold_out(self.board.session, self.board.facts, item))


def portions(typed: str) -> int:
    """A whole number of portions; raises BoardError for anything else."""
    text = typed.strip()
    if not text.isascii() or not text.isdigit() or len(text) > 5:
        raise BoardError("type a number of portions, such as 12")
    return int(text)
