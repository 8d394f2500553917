"""A grid of characters with shades, drawn once and shown in colour by the board or plain on a sheet."""

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from board.views.text import padded


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
    """One finished line, and the key of the bar that lies on it, if any."""

    dots: tuple[Dot, ...]
    keys: tuple[str, ...] = ()

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

    def put(self, row: int, column: int, dot: Dot) -> None:
        """Draw one dot; outside the grid nothing happens."""
        if 0 <= row < self.height and 0 <= column < self.width:
            self._rows[row][column] = dot

    def at(self, row: int, column: int) -> Dot:
        """The dot in a place inside the grid."""
        return self._rows[row][column]

    def write(self, row: int, column: int, text: str, ink: Shade, *, room: int | None = None) -> None:
        """Write text on the ground that is there, cut to `room` columns."""
        limit = self.width - column if room is None else min(room, self.width - column)
        for offset, glyph in enumerate(padded(text, min(len(text), limit)) if limit > 0 else ""):
            if 0 <= row < self.height and 0 <= column + offset < self.width:
                under = self._rows[row][column + offset]
                self._rows[row][column + offset] = Dot(glyph, ink, under.ground, under.level)

    def is_free(self, row: int, start: int, length: int) -> bool:
        """Whether a stretch of a row is inside the grid and blank."""
        if not 0 <= row < self.height or start < 0 or start + length > self.width:
            return False
        return all(dot == BLANK for dot in self._rows[row][start : start + length])

    def lines(self) -> list[tuple[Dot, ...]]:
        """The finished rows."""
        return [tuple(row) for row in self._rows]
