"""Every glyph the board draws as one ASCII character of the same width, for terminals that have no others."""

import unicodedata
from functools import lru_cache

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

DEGREE = "°"
UNKNOWN = "?"
_BRAILLE = range(0x2800, 0x2900)
_BRAILLE_ROWS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))  # left and right dot, from the top
_LEVELS = "'--."  # a short line at each of a cell's four heights

_ASCII = str.maketrans(
    {
        # how full, from a little to all: each heavier than the one before
        **dict(zip("▁▂▃▄▅▆▇█", ".:-=+*#@", strict=True)),
        # bars: cooking in three warmths; what follows (rest =, hold -) is ASCII already
        **dict(zip("░▒▓", "+%#", strict=True)),
        **dict(zip("▀▌▐■", "####", strict=True)),
        # signs
        "▲": "!",
        "▼": "v",
        "△": "^",
        **dict.fromkeys("▶▸", ">"),
        "◀": "<",
        "▾": "v",
        "◆": "#",
        "◇": "+",
        "●": "O",
        "○": "o",
        "✓": "+",
        "•": "*",
        "·": ".",
        "…": "~",  # cut short: never a full stop, which would look whole
        # lines
        **dict.fromkeys("─━╌┄", "-"),
        **dict.fromkeys("│┃╎", "|"),
        **dict.fromkeys("┊┆", ":"),
        **dict.fromkeys("├┤┼┬┴╭╮╰╯┌┐└┘╶╴╷╵", "+"),
        "╱": "/",
        "╲": "\\",
        # arrows and writing
        "←": "<",
        "→": ">",
        "↑": "^",
        "↓": "v",
        **dict.fromkeys("–—−‐‑", "-"),
        **dict.fromkeys("‘’′", "'"),
        **dict.fromkeys("“”″", '"'),
        "×": "x",
        "≤": "<",
        "≥": ">",
        "≈": "~",
        # letters that are not a base letter with a mark
        **dict(zip("ØøŁłĐđÆæŒœßÞþıÐð", "OoLlDdAaOosTtiDd", strict=True)),
    }
)


@lru_cache(maxsize=8192)
def as_ascii(text: str, scale: str = "C") -> str:
    """The text in as many columns of ASCII; a degree sign becomes the letter of the house's scale.

    Base letters stand for accented ones; what has no likeness is a question mark in each of its columns.
    """
    if text.isascii():
        return text
    named = text.replace(f"{DEGREE}C", " C").replace(f"{DEGREE}F", " F").replace(DEGREE, scale)
    return "".join(_one(c) for c in named.translate(_ASCII))


@lru_cache(maxsize=2048)
def _one(character: str) -> str:
    if character.isascii():
        return character
    if ord(character) in _BRAILLE:
        return _drawn(ord(character) - _BRAILLE.start)
    base = "".join(c for c in unicodedata.normalize("NFKD", character) if c.isascii() and c.isprintable())
    width = cell_len(character)
    return base if len(base) == width else UNKNOWN * width


def _drawn(dots: int) -> str:
    """A piece of a line in braille dots: where it lies in its cell, or which way it goes."""
    left = [row for row, (bit, _) in enumerate(_BRAILLE_ROWS) if dots & bit]
    right = [row for row, (_, bit) in enumerate(_BRAILLE_ROWS) if dots & bit]
    rows = sorted({*left, *right})
    if not rows:
        return " "
    if len(rows) > 1 and left and right:
        slope = sum(left) / len(left) - sum(right) / len(right)
        return "/" if slope > 0 else "\\" if slope < 0 else "|"
    return _LEVELS[rows[0]] if len(rows) == 1 else "|"


class AsciiOnly(LineFilter):
    """Turns every line into ASCII as it is drawn, a dialog's frame as well as a view."""

    def __init__(self, scale: str) -> None:
        super().__init__()
        self._scale = scale

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments in ASCII."""
        return [Segment(as_ascii(text, self._scale), style, control) for text, style, control in segments]
