"""A bare Textual application with the board's text: python -m tests.bench.bare FILE.txt."""

import sys
from pathlib import Path

from textual.app import App, ComposeResult
from textual.binding import Binding
from textual.widgets import Static


class Bare(App[None]):
    """The same text, a widget a line, with a line that the arrows move and nothing more."""

    BINDINGS = (Binding("down", "move", "down"), Binding("q", "quit", "quit"))
    CSS = ".chosen { background: $accent; }"

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = text
        self._at = 0

    def compose(self) -> ComposeResult:
        """One widget a line."""
        for line in self._text.splitlines():
            yield Static(line, markup=False)

    def action_move(self) -> None:
        """Mark the next line."""
        lines = list(self.query(Static))
        lines[self._at].remove_class("chosen")
        self._at = (self._at + 1) % len(lines)
        lines[self._at].add_class("chosen")


if __name__ == "__main__":
    Bare(Path(sys.argv[1]).read_text(encoding="utf-8")).run()
