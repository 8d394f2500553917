"""The line of a dialog that says what its keys do; each word pressed by mouse or touch does it too."""

from collections.abc import Sequence

from textual.events import Click
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from board.app.widgets.strips import blank, cells_strip
from board.views.text import Cell, Tone, width_of

_GAP = 3

Word = tuple[str, str]
"""What is said, such as `Esc leaves`, and the screen's action it stands for; empty where it is only said."""


class Hint(Widget):
    """Words in as many lines as they need."""

    DEFAULT_CSS = "Hint { height: auto; width: 1fr; margin-top: 1; }"

    def __init__(self, *words: Word, id: str | None = None) -> None:
        super().__init__(id=id)
        self._words: tuple[Word, ...] = words

    def show(self, *words: Word) -> None:
        """Say other words."""
        if words != self._words:
            self._words = words
            self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the words take."""
        return len(_lines(self._words, width))

    def render_line(self, y: int) -> Strip:
        """One line of words."""
        lines = _lines(self._words, self.size.width)
        if y >= len(lines):
            return blank(self.app.theme, self.size.width)
        cells = [Cell((" " * _GAP if n else "") + says, Tone.QUIET) for n, (says, _) in enumerate(lines[y])]
        return cells_strip(self.app.theme, cells, self.size.width)

    async def on_click(self, event: Click) -> None:
        """Do what the word under the pointer stands for."""
        event.stop()
        lines, at = _lines(self._words, self.size.width), 0
        for says, action in lines[event.y] if event.y < len(lines) else ():
            if at <= event.x < at + width_of(says) and action:
                await self.app.run_action(action, self.screen)
                return
            at += width_of(says) + _GAP


def _lines(words: Sequence[Word], width: int) -> list[list[Word]]:
    lines: list[list[Word]] = [[]]
    used = 0
    for word in words:
        size = width_of(word[0]) + (_GAP if lines[-1] else 0)
        if lines[-1] and used + size > width:
            lines.append([])
            used, size = 0, width_of(word[0])
        lines[-1].append(word)
        used += size
    return lines
