"""Cells of a table for a spreadsheet: what a person typed stays text there, and in a terminal."""

import re
import unicodedata

from board.views.obeyed import harmless
from board.views.text import inert

_RECKONED = ("=", "+", "-", "@")  # how a formula begins, as OWASP's page on CSV injection lists it
_BREAKS = ("\t", "\r", "\n")
# where a spreadsheet that parts cells by semicolons or tabs, or lines within a cell, would begin a new one
_NEW_CELL = re.compile(r"([;\t\n][\s\"']*)(?=[=+\-@＝＋－＠﹦﹢﹣﹫])")


def cell(value: object) -> object:
    """Numbers as they are; where a spreadsheet could see a formula begin, an apostrophe stands before it.

    Wide forms of the signs, and signs behind what does not show, are formulas to some.
    """
    if not isinstance(value, str):
        return value
    seen = unicodedata.normalize("NFKC", inert(value))
    is_formula = seen.startswith(_RECKONED) or value.startswith(_BREAKS)
    kept = _NEW_CELL.sub(r"\1'", harmless(value))
    return f"'{kept}" if is_formula else kept
