"""What to have in the house and what to pull out, over as many days as are asked for."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.facts import Facts
from board.views.lists import lists
from board.views.lists_tables import pulling_table, shopping_table
from board.views.table import share

LONGEST_DAYS = 21
_EDGES = 8  # lines of the frame and the hint
_LEAST = [3, 3]
_DAY = timedelta(days=1)
_HINT = "+ - days   ← → another first day   Tab the other list   Esc leaves"


class ListsDialog(Dialog[None]):
    """Both lists of a span that begins today; + and - make it longer and shorter, arrows move it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("enter,q,l", "leave", "close"),
        ("plus,equals_sign", "more", "a day more"),
        ("minus", "fewer", "a day less"),
        ("left", "sooner", "a day sooner"),
        ("right", "later", "a day later"),
    ]

    def __init__(self, facts: Callable[[date], Facts], first: date) -> None:
        """`facts` gives what is known of everything until a day."""
        super().__init__(classes="wide")
        self._facts = facts
        self._first = self._last = first

    def compose(self) -> ComposeResult:
        """One list over the other."""
        with Vertical(classes="dialog"):
            yield Panel(id="have", choose=True)
            yield Panel(id="pulls", choose=True)
            yield Hint(_HINT)

    def on_mount(self) -> None:
        """Today's lists."""
        self._fill()
        self.query_one("#have", Panel).focus()

    def on_resize(self) -> None:
        """Fit the new size."""
        self._fit()

    def _fill(self) -> None:
        facts = self._facts(self._last)
        view = lists(facts, self._first, self._last)
        self.query_one("#have", Panel).show(shopping_table(facts, view))
        self.query_one("#pulls", Panel).show(pulling_table(facts, view))
        self._fit()

    def _fit(self) -> None:
        panels = [self.query_one(f"#{id}", Panel) for id in ("have", "pulls")]
        width = max(20, min(self.size.width * 94 // 100, 104) - 6)
        room = max(sum(_LEAST), self.size.height * 9 // 10 - _EDGES)
        heights = share(room, [panel.wanted_height(width) for panel in panels], _LEAST)
        for panel, height in zip(panels, heights, strict=True):
            panel.styles.height = height

    def action_more(self) -> None:
        """A day more."""
        self._show(self._first, min((self._last - self._first).days + 1, LONGEST_DAYS))

    def action_fewer(self) -> None:
        """A day fewer."""
        self._show(self._first, max((self._last - self._first).days - 1, 0))

    def action_sooner(self) -> None:
        """The same number of days from a day before."""
        self._show(self._first - _DAY, (self._last - self._first).days)

    def action_later(self) -> None:
        """The same number of days from a day after."""
        self._show(self._first + _DAY, (self._last - self._first).days)

    def _show(self, first: date, more: int) -> None:
        self._first, self._last = first, first + more * _DAY
        self._fill()
