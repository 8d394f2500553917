"""Cells of a table for a spreadsheet."""

import pytest

from board.sheets.cells import cell

STARTS = ("=", "+", "-", "@")
BEFORE = ("", " ", "\t", "\r", "\n", " \t ", "\ufeff", "\u200b", "\u00a0", "\u202e")


@pytest.mark.parametrize("start", [*STARTS, "\uff1d", "\uff0b", "\uff0d", "\uff20"])
@pytest.mark.parametrize("before", BEFORE, ids=ascii)
def test_no_text_is_a_formula(before: str, start: str) -> None:
    """A sign that begins one, in its wide form too, is text wherever nothing seen stands before it."""
    assert cell(f"{before}{start}SUM(A1)") == f"'{before}{start}SUM(A1)"


@pytest.mark.parametrize("plain", ["brisket", "2 - 3 pans", "'=x", "", -18.0, 3, None])
def test_anything_else_stays_as_it_is(plain: object) -> None:
    """Numbers below nought stay numbers, and signs inside a text are no formula."""
    assert cell(plain) == plain
