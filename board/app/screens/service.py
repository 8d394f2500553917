"""The Service view on the screen."""

from collections.abc import Iterable, Mapping
from datetime import timedelta

from textual.containers import Horizontal, Vertical
from textual.widget import Widget

from board.app import selling
from board.app.dialogs.ask import Ask
from board.app.dialogs.bulk import BulkDialog
from board.app.keys import SERVICE, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.house.wording import in_list
from board.views import names
from board.views.checks import checks
from board.views.facts import Facts
from board.views.leftovers import leftovers
from board.views.service import ItemLine, Service, is_serving, service
from board.views.service_card import item_card
from board.views.service_card_tables import ahead_table, card_line, card_table, loads_table
from board.views.service_tables import items_table, left_table, orders_table
from board.views.table import share
from board.views.text import Tone

_SOON = timedelta(minutes=15)
_LEFT_LEAST = 3  # lines: a title, one load and what to do with it
_LEFT = 2  # things left over that are named
_WIDE = 116  # columns from which on the card stands beside the orders
_TALL = 30  # lines from which on it lists loads and hours too
_ITEMS_FIRST, _CARD_FIRST, _ORDERS_FIRST = 12, 2, 3  # lines that each keeps where room is short


class ServiceScreen(ViewScreen):
    """Whoever stands at the pass keeps portions, sales and steps true with single keys."""

    NAME = "service"
    ACTS = SERVICE
    BINDINGS = bindings(SERVICE)
    AUTO_FOCUS = "#items"

    _view: Service | None = None

    def body(self) -> Iterable[Widget]:
        """What is left of what is over, the items, what the chosen one's row means, and the orders."""
        yield Panel(id="left-over", choose=True)
        items = Panel(id="items", choose=True)
        items.cuts_rows = True  # the head of an item tells most of it
        yield items
        with Horizontal(id="below"):
            with Vertical(id="card"):
                yield Panel(id="meaning")
                yield Panel(id="ahead")
                yield Panel(id="loads")
            yield Panel(id="orders", choose=True)

    def refill(self, facts: Facts) -> None:
        """A row an item."""
        self._view = service(facts, self.board.revised, self.board.advising.worked_out)
        self._show_items()
        self.panel("left-over").show(left_table(self._view, f"{self.key('close')} says what became of it"))
        self.panel("orders").show(orders_table(self._view))
        self._show_card()

    def _show_items(self) -> None:
        if self._view is not None:
            self.panel("items").show(items_table(self._view, self.size.width))

    def _show_card(self) -> None:
        item = self._item()
        board = self.board
        card = item_card(board.facts, item, self.key, board.revised) if item else None
        wide = card if self._is_wide else None
        self.panel("meaning").show(card_table(card) if self._is_wide else card_line(card))
        self.panel("ahead").show(ahead_table(wide))
        self.panel("loads").show(loads_table(wide))

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another item's card."""
        message.stop()
        if message.panel.id == "items":
            self._show_card()
            self.fit_body()

    def on_resize(self) -> None:
        """Give the items and the card what they have room for, then fit."""
        self._show_items()
        self._show_card()
        super().on_resize()

    def fit_body(self) -> None:
        """The items first, then what the chosen one means; the orders in what room is left."""
        width, wide = self.size.width - 2, self._is_wide
        self.set_class(not wide, "stacked")
        orders = bool(self._view and self._view.orders)
        own = width // 2 if wide and orders else width
        wants = self.panel("orders").wanted_height(width - own - 3 if wide else width) if orders else 0
        card = self._card_heights(own)
        items = self.panel("items").wanted_height(width)
        room = self.room - self._fit_left(width)
        if wide:
            upper, lower = share(room - 2, [items, max(sum(card) + len(card) - 1, wants)], [8, 4])
            heights = {"items": upper, "card": lower, "orders": lower}
        else:
            others = [min(sum(card), _CARD_FIRST), _ORDERS_FIRST if orders else 0]
            least = [min(items, _ITEMS_FIRST, max(5, room - 3 - sum(others))), *others]
            given = share(room - 3, [items, sum(card), wants], least)
            heights = dict(zip(("items", "card", "orders"), given, strict=True))
        for id, height in heights.items():
            self.query_one(f"#{id}").styles.height = height
        self.query_one("#card").styles.width = own
        self.panel("orders").display = orders

    def _fit_left(self, width: int) -> int:
        """Give what is left of what is over its lines, a third of the room at most; how many it takes."""
        panel = self.panel("left-over")
        panel.display = bool(panel.table.rows)
        lines = min(panel.wanted_height(width), max(_LEFT_LEAST, self.room // 3)) if panel.display else 0
        panel.styles.height = lines
        return lines + 1 if lines else 0

    @property
    def _is_wide(self) -> bool:
        """Whether the card stands beside the orders, with its loads and hours where there is height too."""
        return self.size.width >= _WIDE and self.size.height >= _TALL

    def _card_heights(self, width: int) -> list[int]:
        """Give each part of the card its height."""
        heights = []
        for id in ("meaning", "ahead", "loads"):
            part = self.panel(id)
            part.display = bool(part.table.rows)
            if part.display:
                heights.append(part.wanted_height(width))
                part.styles.height = heights[-1]
        return heights

    def quiet_word(self) -> str:
        """The reading that is due, or what a person may forget here."""
        facts = self.board.facts
        left = () if is_serving(facts) else leftovers(facts)
        if left:
            more = [f"{len(left) - _LEFT} more"] if len(left) > _LEFT else []
            these = in_list([*(one.name for one in left[:_LEFT]), *more])
            return f"left of what is over: {these}; {self.key('close')} asks what becomes of each"
        waiting = checks(facts, facts.now + _SOON)
        if waiting:
            due = "overdue since" if waiting[0].at < facts.now else "due"
            return f"{due} {names.clock(facts.house, waiting[0].at)}: {waiting[0].says}"
        sees = f"{self.key('service-likely')} sees the item's load"
        marks = f"{self.key('load-likely')} again marks its step"
        return f"{sees}, {marks}; {self.key('sell')} and a number records a sale."

    def _item(self) -> str:
        row = self.panel("items").chosen
        return row.key if row else ""

    def _line(self) -> ItemLine | None:
        lines = self._view.lines if self._view else ()
        return next((line for line in lines if line.item == self._item()), None)

    def _order(self) -> str:
        """The chosen order, where the cursor is among them."""
        listed = self.panel("orders")
        return listed.chosen.key if listed.has_focus and listed.chosen else ""

    def _left_over(self) -> str:
        """The chosen load of what is left, where the cursor is among them."""
        listed = self.panel("left-over")
        return listed.chosen.key if listed.has_focus and listed.chosen else ""

    def _next_order(self, order: str) -> str:
        """The order that waits after this one, or else the first that waits; itself where none does."""
        waiting = [one.key for one in self._view.orders if not one.gone] if self._view else []
        at = waiting.index(order) if order in waiting else -1
        return next(iter([*waiting[at + 1 :], *(key for key in waiting if key != order)]), order)

    def chosen_load(self) -> str:
        """The load of the chosen item that is in trouble, or its next."""
        line = self._line()
        return self._left_over() or (line.troubled or line.load if line else "")

    def action_remedies(self) -> None:
        """See what would help the chosen item's load in trouble, or its next; else the first in trouble."""
        lines = self._view.lines if self._view else ()
        own = next((line.troubled or line.load for line in lines if line.item == self._item()), "")
        asked = (own, *(line.troubled for line in lines))
        self.board.open_remedies(next(filter(self.board.cooks, asked), own))

    def action_likely(self) -> None:
        """Say what became of what is left, hand over an order, or see the item's load."""
        board, order, left = self.board, self._order(), self._left_over()
        if left:
            board.closing.ask(left)
            return
        if order:
            after = self._next_order(order)
            board.record(lambda: selling.hand_over(board.session, board.facts, order, self.key))
            self.panel("orders").choose(after)
            return
        self.action_load_page()

    def action_sell_one(self) -> None:
        """Record one portion sold."""
        self._sell("1")

    def action_sell(self) -> None:
        """Ask how many were sold."""
        line = self._line()
        if line:
            question = f"How many portions of {line.name}?"
            self.app.push_screen(Ask("Sold", question, check=selling.portions, digits=True), self._sell)

    def _sell(self, typed: str | None) -> None:
        board, item = self.board, self._item()
        if typed and item:
            number = selling.portions(typed)
            board.record(lambda: selling.sell(board.session, board.facts, item, number))

    def action_bulk(self) -> None:
        """Ask what was sold of each item."""
        lines = self._view.lines if self._view else ()
        if not lines:
            self.board.say("no service is planned; plan the day first", Tone.CARE)
            return
        self.board.push_screen(BulkDialog(lines, selling.portions, self.key("undo")), self._sell_many)

    def _sell_many(self, numbers: Mapping[str, int] | None) -> None:
        board = self.board
        if numbers is not None:
            board.record(lambda: selling.sell_many(board.session, board.facts, numbers))

    def chosen_step(self) -> str:
        """The next step of the chosen item's loads."""
        line = self._line()
        return line.step if line else ""

    def action_close(self) -> None:
        """See to what is left."""
        self.board.closing.open()

    def action_sold_out(self) -> None:
        """Mark the chosen item sold out, or take that back."""
        board, item = self.board, self._item()
        if item:
            board.record(lambda: selling.sold_out(board.session, board.facts, item))
