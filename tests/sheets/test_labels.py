"""Labels as they are printed: read back from the PDF, each whole and in its place."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from board.sheets.labels import labels_pdf, labels_text
from board.sheets.papers import PAPERS
from board.views.labels import Label

CURE = Label(
    "ham cure",
    "1219-ham-cure-1",
    ("2.9 kg, 2.5 L", "made Sat 19 Dec 2026 13:00 by Wren", "allergens: MOLASSES"),
    ("raw brine: discard after use",),
)
LONG = Label(
    "Żurek-Brühe für «Grüße» ½ Ω " + "n" * 60,
    "L" * 80,
    tuple(f"a long sentence number {n} that a label has to break into lines" for n in range(4)),
    ("Contains nitrite: not table salt",),
)
MM = 72 / 25.4


def words(pdf: bytes) -> list[str]:
    """The words of each page."""
    return ["".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]


def spots(pdf: bytes, text: str) -> list[tuple[float, float]]:
    """Where a text begins on the first page, in points from the lower left."""
    found: list[tuple[float, float]] = []

    def visit(said: str, _: object, matrix: list[float], *__: object) -> None:
        if text in said:
            found.append((round(matrix[4], 1), round(matrix[5], 1)))

    PdfReader(BytesIO(pdf)).pages[0].extract_text(visitor_text=visit)
    return found


def test_a_label_says_all_of_it() -> None:
    """Name, lot, every sentence and every caution are on the page."""
    page = words(labels_pdf([CURE], "single"))[0]
    for text in (CURE.name, f"lot {CURE.lot}", *CURE.says, *CURE.minds):
        assert "".join(text.split()) in page


@pytest.mark.parametrize("paper", PAPERS)
def test_a_long_label_loses_nothing(paper: str) -> None:
    """Long names and lots are broken, not cut, and any letter of the shipped typeface prints."""
    page = words(labels_pdf([LONG], paper))[0]
    for text in (LONG.name, LONG.lot, *LONG.says, *LONG.minds):
        assert "".join(text.split()) in page


@pytest.mark.parametrize(("paper", "a_page"), [("a4", 24), ("letter", 24), ("single", 1)])
def test_a_sheet_is_filled_before_the_next_one(paper: str, a_page: int) -> None:
    """24 labels fill a sheet, the 25th begins another; a single label has a page of its own."""
    assert len(words(labels_pdf([CURE] * a_page, paper))) == 1
    assert len(words(labels_pdf([CURE] * (a_page + 1), paper))) == 2


def test_24_labels_stand_in_three_columns_of_eight() -> None:
    """Each label begins in its own cell of an A4 sheet: 70 mm wide, 37.1 mm high."""
    cells = {
        (int(x // (70 * MM)), int(y // (297 / 8 * MM))) for x, y in spots(labels_pdf([CURE] * 24), "ham cure")
    }
    assert cells == {(across, down) for across in range(3) for down in range(8)}


def test_the_same_labels_are_the_same_bytes() -> None:
    """Nothing of the moment of printing is in the file."""
    assert labels_pdf([CURE, LONG]) == labels_pdf([CURE, LONG])


def test_labels_as_text_keep_to_their_width() -> None:
    """The text form says the same, no line wider than asked."""
    text = labels_text([CURE, LONG], 60)
    assert all(len(line) <= 60 for line in text.splitlines())
    assert "ham cure" in text
    assert "! raw brine: discard after use" in text


@pytest.mark.parametrize(
    ("paper", "high_mm", "page_mm"), [("a4", 297 / 8, 297), ("letter", 279.4 / 8, 279.4)]
)
def test_a_long_label_stays_in_its_cell(paper: str, high_mm: float, page_mm: float) -> None:
    """The type gets smaller until the last line stands above the cell's lower edge."""
    for text in (LONG.minds[0].split()[-1], LONG.says[-1].split()[-1]):
        lowest = min(y for _, y in spots(labels_pdf([LONG], paper), text))
        assert lowest > (page_mm - high_mm) * MM
