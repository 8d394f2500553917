"""Large letters for a screen read from far off: a pixel font of our own, all capitals, drawn in half blocks.

A letter is seven rows of pixels, wide as it needs to be. A size says how many columns a pixel takes and how
many rows of the screen the letter is tall; a taller letter has longer stems, not thicker bars.
"""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from board.app.glyphs import as_ascii
from board.views.text import Cell

PIXELS = 7
_BARS = (0, 3, 6)  # rows of pixels where a letter has its bars; the others are stems
_STEMS = (2, 4, 1, 5)  # which of them grows first
_SPACE = 3  # pixels
_FONT = {
    "A": " ## |#  #|#  #|####|#  #|#  #|#  #",
    "B": "### |#  #|#  #|### |#  #|#  #|### ",
    "C": " ## |#  #|#   |#   |#   |#  #| ## ",
    "D": "### |#  #|#  #|#  #|#  #|#  #|### ",
    "E": "####|#   |#   |### |#   |#   |####",
    "F": "####|#   |#   |### |#   |#   |#   ",
    "G": " ## |#  #|#   |# ##|#  #|#  #| ## ",
    "H": "#  #|#  #|#  #|####|#  #|#  #|#  #",
    "I": "###| # | # | # | # | # |###",
    "J": "  ##|   #|   #|   #|   #|#  #| ## ",
    "K": "#  #|#  #|# # |##  |# # |#  #|#  #",
    "L": "#   |#   |#   |#   |#   |#   |####",
    "M": "#   #|## ##|# # #|# # #|#   #|#   #|#   #",
    "N": "#   #|##  #|##  #|# # #|#  ##|#  ##|#   #",
    "O": " ### |#   #|#   #|#   #|#   #|#   #| ### ",
    "P": "### |#  #|#  #|### |#   |#   |#   ",
    "Q": " ### |#   #|#   #|#   #|# # #|#  # | ## #",
    "R": "### |#  #|#  #|### |# # |#  #|#  #",
    "S": " ###|#   |#   | ## |   #|   #|### ",
    "T": "#####|  #  |  #  |  #  |  #  |  #  |  #  ",
    "U": "#  #|#  #|#  #|#  #|#  #|#  #| ## ",
    "V": "#   #|#   #|#   #|#   #| # # | # # |  #  ",
    "W": "#   #|#   #|#   #|# # #|# # #|## ##|#   #",
    "X": "#   #|#   #| # # |  #  | # # |#   #|#   #",
    "Y": "#   #|#   #| # # |  #  |  #  |  #  |  #  ",
    "Z": "#####|    #|   # |  #  | #   |#    |#####",
    "0": " ## |#  #|#  #|#  #|#  #|#  #| ## ",
    "1": " # |## | # | # | # | # |###",
    "2": " ## |#  #|   #|  # | #  |#   |####",
    "3": "### |   #|   #| ## |   #|   #|### ",
    "4": "#  #|#  #|#  #|####|   #|   #|   #",
    "5": "####|#   |#   |### |   #|   #|### ",
    "6": " ## |#   |#   |### |#  #|#  #| ## ",
    "7": "####|   #|   #|  # | #  | #  | #  ",
    "8": " ## |#  #|#  #| ## |#  #|#  #| ## ",
    "9": " ## |#  #|#  #| ###|   #|   #| ## ",
    " ": "|".join([" " * _SPACE] * PIXELS),
    ".": " | | | | | |#",
    ",": "  |  |  |  |  | #|# ",
    ":": " | |#| |#| | ",
    ";": "  |  | #|  |  | #|# ",
    "!": "#|#|#|#|#| |#",
    "?": " ## |#  #|   #|  # | #  |    | #  ",
    "'": "#|#| | | | | ",
    '"': "# #|# #|   |   |   |   |   ",
    "-": "   |   |   |###|   |   |   ",
    "+": "   |   | # |###| # |   |   ",
    "=": "   |   |###|   |###|   |   ",
    "/": "   #|   #|  # |  # | #  | #  |#   ",
    "(": " #|# |# |# |# |# | #",
    ")": "# | #| #| #| #| #|# ",
    "%": "#   #|#   #|   # |  #  | #   |#   #|#   #",
    "&": " #  |# # |# # | #  |# ##|#  #| ## ",
    "#": " # # | # # |#####| # # |#####| # # | # # ",
    "<": "   |  #| # |#  | # |  #|   ",
    ">": "   |#  | # |  #| # |#  |   ",
    "*": "     |# # #| ### |#####| ### |# # #|     ",
    "°": " # |# #| # |   |   |   |   ",
    "→": "     |  #  |   # |#####|   # |  #  |     ",
    "×": "   |   |# #| # |# #|   |   ",
    "▲": "   #   |   #   |  ###  |  ###  | ##### | ##### |#######",
    "△": "   #   |   #   |  # #  |  # #  | #   # | #   # |#######",
    "…": "     |     |     |     |     |     |# # #",
    "–": "    |    |    |####|    |    |    ",
}


@dataclass(frozen=True, slots=True)
class Size:
    """How large letters are: columns of the screen a pixel, rows of the screen a letter."""

    columns: int
    rows: int

    @property
    def pitch(self) -> int:
        """Rows from one line of letters to the next."""
        return self.rows + max(1, self.rows // 8)


def width_of(text: str, size: Size) -> int:
    """Columns of the screen that a text takes, without the gap after its last letter."""
    return max(0, sum(len(rows[0]) + 1 for rows in _shapes(text)) - 1) * size.columns


def lines_of(cells: Sequence[Cell], size: Size, *, solid: bool = False) -> list[tuple[Cell, ...]]:
    """A line of large letters, row by row, each piece in its tone; `solid` draws in ASCII's #."""
    drawn = [_drawn(cell.text, size, solid) for cell in cells]
    return [
        tuple(Cell(rows[at], cell.tone) for cell, rows in zip(cells, drawn, strict=True))
        for at in range(size.rows)
    ]


@lru_cache(maxsize=512)
def _drawn(text: str, size: Size, solid: bool) -> tuple[str, ...]:
    """A text's rows on the screen, a gap after its last letter."""
    heights = stretched(size.rows if solid else 2 * size.rows, 1 if solid else size.columns)
    shapes = _shapes(text)
    pixels = [" ".join(rows[at] for rows in shapes) + " " if shapes else "" for at in range(PIXELS)]
    wide = ["".join(pixel * size.columns for pixel in row) for row in pixels]
    tall = [row for row, times in zip(wide, heights, strict=True) for _ in range(times)]
    if solid:
        return tuple(tall)
    return tuple(_halves(above, below) for above, below in zip(tall[::2], tall[1::2], strict=True))


def _halves(above: str, below: str) -> str:
    glyphs = {"##": "█", "# ": "▀", " #": "▄", "  ": " "}
    return "".join(glyphs[a + b] for a, b in zip(above, below, strict=True))


def stretched(total: int, bar: int) -> list[int]:
    """How often each row of pixels is drawn so that a letter is so tall and its bars so thick."""
    bar = max(1, min(bar, total // PIXELS))
    heights = [bar] * PIXELS
    for stem in _STEMS:
        heights[stem] = 0
    for step in range(max(0, total - bar * len(_BARS))):
        heights[_STEMS[step % len(_STEMS)]] += 1
    return heights


def _shapes(text: str) -> list[list[str]]:
    return [_shape(character) for character in unicodedata.normalize("NFKD", text) if _is_drawn(character)]


def _is_drawn(character: str) -> bool:
    return not unicodedata.combining(character)


@lru_cache(maxsize=512)
def _shape(character: str) -> list[str]:
    capital = as_ascii(character)[:1].upper()
    return _FONT.get(character, _FONT.get(capital, _FONT["?"])).split("|")
