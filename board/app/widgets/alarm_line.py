"""The one line of alarms under a view's head: the worst, how many more, and the key that lists them."""

from collections.abc import Sequence

from textual.events import Click
from textual.strip import Strip
from textual.widget import Widget

from board.app.widgets.strips import cells_strip
from board.views.table import GAP
from board.views.text import Cell, Tone, padded, width_of


class AlarmLine(Widget):
    """Takes no room while all is quiet; its sentence gives way to what stands at the right."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._cells: tuple[Cell, ...] = ()

    def show(self, cells: Sequence[Cell], key: str) -> None:
        """Show the worst alarm and what is beside it; nothing takes the line away."""
        shown = (*cells, Cell(f"{key} answers", Tone.QUIET)) if cells else ()
        self.styles.display = "block" if shown else "none"
        if shown != self._cells:
            self._cells = shown
            self.refresh()

    @property
    def height(self) -> int:
        """Lines it takes."""
        return 1 if self._cells else 0

    async def on_click(self, event: Click) -> None:
        """A press lists the alarms."""
        event.stop()
        await self.app.run_action("alarms")

    def render_line(self, y: int) -> Strip:
        """The line."""
        width = self.size.width
        if not self._cells:
            return cells_strip(self.app.theme, (), width)
        first, *rest = self._cells
        right = [cell for one in rest for cell in (Cell(" " * GAP), one)]
        room = max(8, width - 2 - sum(width_of(cell.text) for cell in right))
        said = first.text if width_of(first.text) <= room else first.short or first.text
        left = Cell(padded(said, room), first.tone)
        return cells_strip(self.app.theme, (Cell(" "), left, *right), width)
