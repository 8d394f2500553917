"""Words on a screen: a cell of text with a tone, made harmless and measured in terminal columns."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from rich.cells import cell_len, set_cell_size

_BLOCKS = " ▁▂▃▄▅▆▇█"
_WORD = re.compile(r"(?:\S*\d:\d\d [ap]m)+\S*|\S+")  # a time of day stays in one
# letters, marks, numbers, punctuation, symbols and plain spaces may stand on a screen
_SPEAKABLE = ("L", "M", "N", "P", "S", "Zs")
# these turn or join the text around them, which would move a neighbour's column
_UNSETTLING = frozenset("\u200b\u200c\u200d\u2060\ufeff\ufe0e\ufe0f")


class Tone(StrEnum):
    """What a colour means; each tone also has a word or a glyph wherever it matters."""

    PLAIN = "plain"
    QUIET = "quiet"
    STRONG = "strong"
    HEAD = "head"
    HEAT = "heat"
    GOOD = "good"
    CARE = "care"
    LATE = "late"


@dataclass(frozen=True, slots=True)
class Cell:
    """A piece of text in one tone; `heat` gives each character its own warmth, 0 to 1.

    `short` is what it says in a narrow column that the whole text does not fit.
    """

    text: str
    tone: Tone = Tone.PLAIN
    heat: tuple[float, ...] = ()
    short: str = ""


@lru_cache(maxsize=4096)
def inert(text: str) -> str:
    """The text without anything a terminal would obey or that has no place on one line."""
    kept = ("" if c in _UNSETTLING else c if _speakable(c) else " " for c in text)
    return " ".join("".join(kept).split())


def _speakable(character: str) -> bool:
    return unicodedata.category(character).startswith(_SPEAKABLE)


def width_of(text: str) -> int:
    """Terminal columns the text takes."""
    return cell_len(text)


def padded(text: str, width: int, *, right: bool = False) -> str:
    """The text in exactly so many columns; what does not fit ends in an ellipsis."""
    if width <= 0:
        return ""
    length = width_of(text)
    if length > width:
        return set_cell_size(set_cell_size(text, width - 1).rstrip() + "…", width)
    gap = " " * (width - length)
    return gap + text if right else text + gap


def wrapped(text: str, width: int) -> list[str]:
    """The text broken at spaces into lines of at most so many columns; longer words are broken too."""
    lines, line = [], ""
    for word in _short_words(text, max(1, width)):
        longer = f"{line} {word}" if line else word
        if line and width_of(longer) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line or not lines else lines


def _short_words(text: str, width: int) -> Iterable[str]:
    for word in _WORD.findall(text):
        rest = word
        while width_of(rest) > width > 1:
            head = set_cell_size(rest, width).rstrip()
            head = head[: head.rfind("–") + 1] or head  # a span of times is broken between them
            yield head
            rest = rest[len(head) :].lstrip()
        yield rest


def first_words(text: str, width: int) -> str:
    """As many whole words as so many columns hold, with an ellipsis where some are left out."""
    if width_of(text) <= width:
        return text
    return f"{wrapped(text, width - 1)[0].rstrip(' ,.;:')}…"


def block(fraction: float) -> str:
    """A column of eighths, from empty to full."""
    return _BLOCKS[round(min(1.0, max(0.0, fraction)) * 8)]
