"""A grid of characters with shades, drawn once and shown in colour by the board or plain on a sheet."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from board.views.text import padded, width_of


class Shade(StrEnum):
    """What a drawn character or its ground means; `heat` shades also carry a level from 0 to 1."""

    NONE = "none"
    PLAIN = "plain"
    QUIET = "quiet"
    STRONG = "strong"
    HEAT = "heat"
    WRAPPED = "wrapped"
    FINISH = "finish"
    REST = "rest"
    HOLD = "hold"
    ROOM = "room"
    SERVICE = "service"
    NOW = "now"
    LATE = "late"


class Dot(NamedTuple):
    """One character: its glyph, the shade of its ink, the shade of its ground, and the ground's level."""

    glyph: str = " "
    ink: Shade = Shade.PLAIN
    ground: Shade = Shade.NONE
    level: float = 0.0


BLANK = Dot()


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """One finished line, the keys of the bars that lie on it, and the place of its pit among the pits."""

    dots: tuple[Dot, ...]
    keys: tuple[str, ...] = ()
    pit: int | None = None

    @property
    def text(self) -> str:
        """The line as plain text."""
        return "".join(dot.glyph for dot in self.dots)


class Canvas:
    """A grid of dots of one size that shapes are drawn on."""

    def __init__(self, width: int, height: int) -> None:
        self.width = width
        self.height = height
        self._rows = [[BLANK] * width for _ in range(height)]

    @classmethod
    def of(cls, dots: Sequence[Dot]) -> "Canvas":
        """A canvas of one row that holds a finished line."""
        canvas = cls(len(dots), 1)
        canvas._rows = [list(dots)]
        return canvas

    def put(self, row: int, column: int, dot: Dot) -> None:
        """Draw one dot; outside the grid nothing happens."""
        if 0 <= row < self.height and 0 <= column < self.width:
            self._rows[row][column] = dot

    def at(self, row: int, column: int) -> Dot:
        """The dot in a place inside the grid."""
        return self._rows[row][column]

    def write(
        self, row: int, column: int, text: str, ink: Shade, *, room: int | None = None, over: bool = False
    ) -> None:
        """Write text cut to `room` columns: on the ground that is there, or `over` it on the view's own."""
        limit = self.width - column if room is None else min(room, self.width - column)
        wide = width_of(text)
        single = wide == len(text)
        for glyph in text if wide <= limit else padded(text, limit):
            size = 1 if single else width_of(glyph)
            for part in range(size):  # a wide glyph leaves its second column empty
                self._ink(row, column + part, "" if part else glyph, ink, over=over)
            column += size

    def _ink(self, row: int, column: int, glyph: str, ink: Shade, *, over: bool) -> None:
        if 0 <= row < self.height and 0 <= column < self.width:
            under = BLANK if over else self._rows[row][column]
            self._rows[row][column] = Dot(glyph, ink, under.ground, under.level)

    def is_free(self, row: int, start: int, length: int) -> bool:
        """Whether a stretch of a row is inside the grid and blank."""
        if not 0 <= row < self.height or start < 0 or start + length > self.width:
            return False
        return all(dot == BLANK for dot in self._rows[row][start : start + length])

    def lines(self) -> list[tuple[Dot, ...]]:
        """The finished rows."""
        return [tuple(row) for row in self._rows]
