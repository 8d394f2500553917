"""Glyphs: one column each, and in ASCII as many columns of ASCII."""

import ast
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

import board
from board.app.glyphs import UNKNOWN, as_ascii
from board.app.settings import Settings
from board.views.text import _UNSETTLING
from tests.app.boards import board as the_board
from tests.app.boards import night_ledger
from tests.app.pictures import VIEWS, drawn

HERE = Path(board.__file__).parent
# drawn as they are: a sheet's formulas and units of the library are no part of a screen
SHOWN = ("app", "views", "house/wording.py", "house/degrees.py", "house/units.py", "safety")
_OF_SUMS = set("ΣφγΔ√∞ᵀ⁻¹²³⁴µº⁄")  # of formulas and of unit spellings that are read, not drawn


def _drawn_glyphs() -> set[str]:
    """Every character outside ASCII in the texts that a screen may show."""
    found: set[str] = set()
    for name in SHOWN:
        place = HERE / name
        for path in [place] if place.is_file() else [*place.rglob("*.py"), *place.rglob("*.toml")]:
            text = path.read_text(encoding="utf-8")
            found |= set("".join(_texts(text)) if path.suffix == ".py" else text)
    return {c for c in found if not c.isascii() and c.isprintable()} - _OF_SUMS - _UNSETTLING


def _texts(source: str) -> list[str]:
    tree = ast.parse(source)
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    strings = (node for node in ast.walk(tree) if isinstance(node, ast.Constant) and id(node) not in docs)
    return [node.value for node in strings if isinstance(node.value, str)]


def test_every_drawn_glyph_takes_one_column() -> None:
    """A glyph that took two columns, or none, would move everything to its right."""
    glyphs = _drawn_glyphs()
    assert {"▲", "°", "…", "▓"} <= glyphs
    assert [c for c in glyphs if cell_len(c) != 1] == []
    assert [c for c in glyphs if unicodedata.east_asian_width(c) in "WF"] == []


def test_every_drawn_glyph_has_an_ascii_likeness() -> None:
    """What the board itself draws is never an unknown character in ASCII."""
    assert sorted(c for c in _drawn_glyphs() if as_ascii(c) == UNKNOWN) == []


def test_signs_that_differ_in_meaning_differ_in_ascii() -> None:
    """Late is not maybe, read is not left out, pinned is not waiting; a fuller block is another one."""
    for glyphs in ("▲?", "●○", "◆◇", "░▒▓=-:·", " ▁▂▃▄▅▆▇█", "╱│┊", "╎┊"):
        assert len(set(as_ascii(glyphs))) == len(glyphs)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("93°", "93C"),
        ("4° to 60 °C", "4C to 60  C"),
        ("118→130°", "118>130C"),
        ("Café Ñandú", "Cafe Nandu"),
        ("Smørrebrød", "Smorrebrod"),
        ("牛", "??"),
        ("late 36 min ▲", "late 36 min !"),
        ("⣀⠤⠒⠉", ".--'"),
        ("⡠⠊", "//"),
    ],
)
def test_texts_in_ascii(text: str, said: str) -> None:
    """Letters keep their base, degrees get their scale, and a line keeps its course."""
    assert as_ascii(text, "C") == said


@given(st.text())
def test_ascii_keeps_the_width(text: str) -> None:
    """Any text becomes ASCII in as many columns, so that no column moves."""
    # control characters never come so far: they are not printed
    text = "".join(c for c in text if unicodedata.category(c)[0] != "C")
    shown = as_ascii(text)
    assert shown.isascii()
    assert cell_len(shown) == sum(cell_len(c) for c in text)


@pytest.mark.parametrize("keys", [*VIEWS.values(), "t", "question_mark", "slash", "h", "4,enter", "w"])
async def test_ascii_mode_draws_only_ascii(keys: str, tmp_path: Path) -> None:
    """Every view, and a dialog with its frame, is drawn in ASCII where that is asked."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = await drawn(the_board(ledger, settings=Settings(ascii=True)), (80, 24), keys.split(","))
    assert found.isascii()
    assert "views" in found or "Esc" in found
