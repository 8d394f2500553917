"""Cells of a table for a spreadsheet: what a person typed stays text there."""

import unicodedata

from board.views.text import inert

_RECKONED = ("=", "+", "-", "@")  # how a formula begins, as OWASP lists it
_BREAKS = ("\t", "\r", "\n")


def cell(value: object) -> object:
    """Numbers as they are; a text that a spreadsheet could take for a formula begins with an apostrophe.

    Wide forms of the signs, and signs behind what does not show, are formulas to some.
    """
    if not isinstance(value, str):
        return value
    seen = unicodedata.normalize("NFKC", inert(value))
    is_formula = seen.startswith(_RECKONED) or value.startswith(_BREAKS)
    return f"'{value}" if is_formula else value
