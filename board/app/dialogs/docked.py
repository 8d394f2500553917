"""A question along the foot of a view, which stays in sight above it and shows what is tried."""

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from board.app.dialogs.dialog import Answer, Dialog
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.planning.plan import Plan
from board.views.pinning import Move
from board.views.pinning_tables import broken_table, move_table

if TYPE_CHECKING:
    from board.planning.replan.desk import Desk

LINES = 10  # of the screen, at its foot
_FRAME = 2  # of them, for the edge and the question
_WIDE, _ACROSS, _ACROSS_WIDE = 110, 2, 4  # figures side by side, by the columns there are


class Docked(Dialog[Answer]):
    """What is tried and its figures, over the foot of the view; Esc leaves everything as it was."""

    HINT: ClassVar[str] = ""

    def __init__(self, plan: Plan) -> None:
        super().__init__(classes="at-foot")
        self.day = plan.day
        self._shown: Move | None = None

    def compose(self) -> ComposeResult:
        """What is asked, the figures, what would break, the keys."""
        with Vertical(classes="docked"):
            yield Static("Laying the plan open…", classes="question", markup=False)
            yield Panel(id="move")
            yield Panel(id="broken")
            yield Hint(self.HINT)

    def lay_open(self, plan: Plan, desk: "Desk") -> None:
        """Take in a plan laid open."""

    def say(self, sentence: str) -> None:
        """Say where it leads, or why it cannot be."""
        self.query_one(".question", Static).update(sentence)

    def fill(self, view: Move | None) -> None:
        """Show the figures of what is tried; nothing where there are none."""
        self._shown = view
        panel, broken = self.query_one("#move", Panel), self.query_one("#broken", Panel)
        panel.display = broken.display = view is not None
        if view is None:
            return
        width = max(20, self.size.width - 2)
        panel.show(move_table(view, _ACROSS_WIDE if width >= _WIDE else _ACROSS))
        broken.show(broken_table(view))
        room = LINES - _FRAME - (1 if width >= len(self.HINT) else 2)
        below = min(max(1, broken.wanted_height(width)), 3 if width >= _WIDE else 2)
        panel.styles.height = min(panel.wanted_height(width), room - below)
        broken.styles.height = below

    def on_mount(self) -> None:
        """Nothing to show until the plan is laid open."""
        self.fill(None)

    def on_resize(self) -> None:
        """Fit the new size."""
        self.fill(self._shown)
