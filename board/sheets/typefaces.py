"""The typefaces of printed pages, shipped with the board so that every name and sign prints anywhere."""

from functools import cache
from pathlib import Path

from reportlab.pdfbase.pdfmetrics import registerFont, registerFontFamily
from reportlab.pdfbase.ttfonts import TTFont

PLAIN, BOLD = "DejaVuSans", "DejaVuSans-Bold"
_FOLDER = Path(__file__).parent / "fonts"


@cache
def load_typefaces() -> None:
    """Make the typefaces known to the PDF library, once in a process."""
    for name in (PLAIN, BOLD):
        registerFont(TTFont(name, str(_FOLDER / f"{name}.ttf")))
    registerFontFamily(PLAIN, normal=PLAIN, bold=BOLD, italic=PLAIN, boldItalic=BOLD)
