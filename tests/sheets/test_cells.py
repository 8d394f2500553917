"""Cells of a table for a spreadsheet; formulas as OWASP's page on CSV injection has them (from memory)."""

import csv
import io
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.sheets.cells import cell

STARTS = ("=", "+", "-", "@")
WIDE = ("\uff1d", "\uff0b", "\uff0d", "\uff20")
BEFORE = ("", " ", "\t", "\r", "\n", " \t ", "\ufeff", "\u200b", "\u00a0", "\u202e")
parts = st.sampled_from(
    (*STARTS, *WIDE, *BEFORE, ";", ",", "\r\n", '"', "'", "\x1b[", "a", "cmd|' /C calc'!A0")
)


def runs(text: str) -> bool:
    """Whether a spreadsheet might take a cell for a formula."""
    seen = "".join(c for c in text if unicodedata.category(c) not in {"Cc", "Cf", "Zs", "Zl", "Zp"})
    return unicodedata.normalize("NFKC", seen).startswith(STARTS)


@pytest.mark.parametrize("start", [*STARTS, *WIDE])
@pytest.mark.parametrize("before", BEFORE, ids=ascii)
def test_no_text_is_a_formula(before: str, start: str) -> None:
    """A sign that begins one, in its wide form too, is text wherever nothing seen stands before it."""
    made = str(cell(f"{before}{start}SUM(A1)"))
    assert made.startswith("'")
    assert made.endswith(f"{start}SUM(A1)")


@given(st.lists(parts, max_size=8).map("".join))
def test_no_way_of_parting_a_line_makes_a_formula(text: str) -> None:
    """Opened with commas, semicolons or tabs between cells, quotation marks heeded or not."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow([12, cell(text), "end"])
    for mark in ",;\t":
        heeded = [one for row in csv.reader(io.StringIO(out.getvalue()), delimiter=mark) for one in row]
        assert not any(map(runs, heeded))
    for mark in ";\t":  # which stand within a cell of ours
        plainly = [one for line in out.getvalue().splitlines() for one in line.split(mark)]
        assert not any(runs(one.strip('"')) for one in plainly)


@pytest.mark.parametrize("plain", ["brisket", "2 - 3 pans", "'=x", "", -18.0, 3, None, "held; 54 °C", "a\nb"])
def test_anything_else_stays_as_it_is(plain: object) -> None:
    """Numbers below nought stay numbers, and signs inside a text are no formula."""
    assert cell(plain) == plain


@pytest.mark.parametrize("obeyed", ["\x1b[2J", "\x9b31m", "\x9d52;c;x\x9c", "\u202etxet", "a\x08b"])
def test_nothing_in_a_cell_is_obeyed_by_a_terminal(obeyed: str) -> None:
    """A table is looked at in a terminal too."""
    assert not [c for c in str(cell(obeyed)) if unicodedata.category(c) in {"Cc", "Cf"}]
