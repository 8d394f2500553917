"""What a terminal would obey is kept off it: out of what is pasted, and out of every line that is drawn."""

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual.color import Color
from textual.events import Event, Paste
from textual.filter import LineFilter

from board.views.text import inert

MOST_PASTED = 5_000  # letters: more than any line takes, and no more than a line can be drawn with


class Harmless(LineFilter):
    """Leaves of every line only what can be seen, in as many columns, wherever its text came from."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments without codes and marks that turn the writing."""
        return [
            segment if segment.control or segment.text.isprintable() else _seen(segment)
            for segment in segments
        ]


def _seen(segment: Segment) -> Segment:
    text, style, control = segment
    width = cell_len(text)
    kept = "".join(c if c.isprintable() else " " * cell_len(c) for c in text)
    return Segment(set_cell_size(kept, width), style, control)


def take_pasted(event: Event) -> None:
    """Make what is pasted one line of plain text, whatever was copied, and of a whole file its beginning."""
    if isinstance(event, Paste):
        event.text = inert(event.text[:MOST_PASTED])
