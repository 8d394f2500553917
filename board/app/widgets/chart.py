"""A load's chart on the screen, drawn anew for each size and each moment."""

from textual.strip import Strip
from textual.widget import Widget

from board.app.widgets.strips import blank, dots_strip
from board.views.canvas import DrawnLine
from board.views.chart import Chart
from board.views.chart_drawing import GUTTER, draw
from board.views.chart_words import Words

_LEAST_WIDTH, _LEAST_HEIGHT = GUTTER + 20, 6


class ChartView(Widget):
    """A core over the hours, in the room there is."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._shown: tuple[Chart, Words] | None = None
        self._lines: list[DrawnLine] = []

    def show(self, chart: Chart | None, words: Words) -> None:
        """Show another chart, or none."""
        shown = (chart, words) if chart else None
        if shown != self._shown:
            self._shown = shown
            self._draw()

    def on_resize(self) -> None:
        """Fit the new size."""
        self._draw()

    def _draw(self) -> None:
        width, height = self.size
        roomy = width >= _LEAST_WIDTH and height >= _LEAST_HEIGHT
        self._lines = draw(self._shown[0], width, height, self._shown[1]) if self._shown and roomy else []
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One line of it."""
        theme, width = self.app.theme, self.size.width
        return dots_strip(theme, self._lines[y].dots, width) if y < len(self._lines) else blank(theme, width)
