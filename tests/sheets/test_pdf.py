"""Printed pages: numbered, the same bytes each time, and safe from what people type."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from board.sheets.pdf import Document, Grid, Heading, Lines, Part, Sentence, pdf


def document(*parts: Part) -> Document:
    """A page of one invented house."""
    return Document("Record", "Tallow Row", "Fri 18 to Sun 20 December", "digest 12ab", parts)


def texts(data: bytes) -> list[str]:
    """What each page says."""
    return [page.extract_text() for page in PdfReader(BytesIO(data)).pages]


def test_each_page_says_whose_it_is_what_it_covers_and_which_of_how_many() -> None:
    """A page taken out of the pile can be told from the rest, and is missed."""
    rows = [[str(n), f"reading {n}"] for n in range(200)]
    pages = texts(pdf(document(Grid(("no", "what"), rows, (1, 5)))))
    assert len(pages) > 2
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        for said in ("Tallow Row · Record", "Fri 18 to Sun 20 December", "digest 12ab", "what"):
            assert said in page
    assert all(any(f"reading {n}\n" in f"{page}\n" for page in pages) for n in range(200))


def test_the_same_words_give_the_same_bytes() -> None:
    """A print-out can be compared with another byte by byte."""
    page = document(Heading("Cooked", 1), Sentence("74.0 °C"), Lines(("signed",)))
    assert pdf(page) == pdf(page)


@pytest.mark.parametrize(
    "typed",
    ["<b>bold</b> & <para>", "Żółć, Ψαρί, щи, 74 °C → 5 °C ½ ≥", "=1+1", "<font size=900>"],
    ids=["markup", "letters", "formula", "font"],
)
def test_what_people_type_is_printed_as_typed(typed: str) -> None:
    """Markup is words, and every alphabet of the typeface reads back."""
    (page,) = texts(pdf(document(Sentence(typed), Grid((typed,), [(typed,)], (1,)))))
    assert page.count(typed) == 3


def test_a_cell_longer_than_a_page_goes_on_over_the_next() -> None:
    """No note is too long to be printed."""
    pages = texts(pdf(document(Grid(("a", "b"), [("x", " ".join(["word"] * 3000))], (1, 6)))))
    assert sum(page.count("word") for page in pages) == 3000


def test_a_document_without_parts_is_still_a_page() -> None:
    """An empty span prints that it is empty, rather than failing."""
    assert len(texts(pdf(document()))) == 1
