"""A paged document as PDF: headings, sentences and tables in, the same bytes out for the same words.

Every page says whose it is, what span it covers and which page of how many it is; a foot line may say
more. Texts may be anything a person typed: they are printed, never obeyed. The library takes 0.1 s to
import, so this file is imported where a page is made.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    Paragraph,
    SimpleDocTemplate,
    Spacer,
    Table,
    TableStyle,
)

from board.sheets.typefaces import BOLD, PLAIN, load_typefaces
from board.views.text import inert

A4_POINTS = (595.28, 841.89)
MARGIN_POINTS = 42.0
_TEXT, _SMALL = 8.5, 7.0
_HEADINGS = {1: 14.0, 2: 10.5, 3: 9.0}
_WITH_HEADING_POINTS = 60.0  # what must fit below a heading: a few lines, or a table's head and two rows
_GREY, _LINE, _SHADE = "#555555", "#999999", "#eeeeee"


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading, of level 1 to 3."""

    text: str
    level: int = 2


@dataclass(frozen=True, slots=True)
class Sentence:
    """A paragraph, or a small one for what stands beside the matter."""

    text: str
    small: bool = False
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A table whose heads are repeated on each page; `widths` are the columns' shares of the page."""

    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    widths: Sequence[float]


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines to write on by hand, one for each label."""

    labels: Sequence[str]


Part = Heading | Sentence | Grid | Lines


@dataclass(frozen=True, slots=True)
class Document:
    """What is printed: its title, whose it is, the span it covers, a line at each foot, and its parts."""

    title: str
    house: str
    span: str
    foot: str
    parts: Sequence[Part]
    page_points: tuple[float, float] = A4_POINTS


def pdf(document: Document) -> bytes:
    """The document as the bytes of a PDF."""
    load_typefaces()
    out = BytesIO()
    template = SimpleDocTemplate(
        out,
        pagesize=document.page_points,
        leftMargin=MARGIN_POINTS,
        rightMargin=MARGIN_POINTS,
        topMargin=MARGIN_POINTS + 16,
        bottomMargin=MARGIN_POINTS + 12,
        title=inert(document.title),
        author=inert(document.house),
        subject=inert(document.span),
        invariant=1,
        allowSplitting=1,
    )
    width = document.page_points[0] - 2 * MARGIN_POINTS
    parts = [flowable for part in document.parts for flowable in _flowables(part, width)]
    template.build(parts or [_words("", _TEXT)], canvasmaker=_numbered(document))
    return out.getvalue()


def _flowables(part: Part, width: float) -> list[Flowable]:
    if isinstance(part, Heading):
        size = _HEADINGS[part.level]
        # Kept with a table as one piece it would leave the rest of the page empty: the table may be long.
        return [
            CondPageBreak(3 * size + _WITH_HEADING_POINTS),
            _words(part.text, size, bold=True, before=size, after=3),
        ]
    if isinstance(part, Sentence):
        size = _SMALL if part.small else _TEXT
        return [_words(part.text, size, bold=part.bold, grey=part.small, after=2)]
    if isinstance(part, Grid):
        return [_grid(part, width), Spacer(0, 5)]
    return [flowable for label in part.labels for flowable in (Spacer(0, 20), _line(label, width))]


def _words(
    text: str,
    size: float,
    *,
    bold: bool = False,
    grey: bool = False,
    before: float = 0.0,
    after: float = 0.0,
) -> Flowable:
    style = ParagraphStyle(
        "words",
        fontName=BOLD if bold else PLAIN,
        fontSize=size,
        leading=size * 1.25,
        spaceBefore=before,
        spaceAfter=after,
        splitLongWords=1,
        textColor=HexColor(_GREY if grey else "#000000"),
    )
    return Paragraph(escape(inert(text)), style)


def _grid(grid: Grid, width: float) -> Flowable:
    whole = sum(grid.widths)
    head = [_words(text, _SMALL, bold=True) for text in grid.heads]
    rows = [[_words(text, _SMALL) for text in row] for row in grid.rows]
    style = [
        ("BACKGROUND", (0, 0), (-1, 0), HexColor(_SHADE)),
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, HexColor(_LINE)),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 3),
        ("RIGHTPADDING", (0, 0), (-1, -1), 3),
        ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
    ]
    return Table(
        [head, *rows],
        colWidths=[width * share / whole for share in grid.widths],
        repeatRows=1,
        splitInRow=1,
        style=TableStyle(style),
    )


def _line(label: str, width: float) -> Flowable:
    """A label, and beside it a line to write on."""
    style = TableStyle(
        [("LINEBELOW", (1, 0), (1, 0), 0.6, HexColor(_LINE)), ("LEFTPADDING", (0, 0), (0, 0), 0)]
    )
    return Table([[_words(label, _TEXT), ""]], colWidths=[width * 0.35, width * 0.65], style=style)


def _numbered(document: Document) -> type[Canvas]:
    """A canvas that writes the edges of each page once the number of pages is known."""

    class Numbered(Canvas):  # type: ignore[misc]  # the library has no types
        def __init__(self, *args: Any, **options: Any) -> None:
            super().__init__(*args, **options)
            self._pages: list[dict[str, Any]] = []

        def showPage(self) -> None:  # noqa: N802  the library's name
            self._pages.append(dict(self.__dict__))
            self._startPage()

        def save(self) -> None:
            for number, page in enumerate(self._pages, 1):
                self.__dict__.update(page)
                _edges(self, document, number, len(self._pages))
                super().showPage()
            super().save()

    return Numbered


def _edges(canvas: Canvas, document: Document, number: int, pages: int) -> None:
    """The house and span at the head of a page; the foot line and the number at its foot."""
    width, height = document.page_points
    right, top, bottom = width - MARGIN_POINTS, height - MARGIN_POINTS, MARGIN_POINTS - 4
    canvas.setFillColor(_GREY)
    canvas.setStrokeColor(_LINE)
    canvas.setFont(BOLD, _SMALL)
    canvas.drawString(MARGIN_POINTS, top, inert(f"{document.house} · {document.title}"))
    canvas.setFont(PLAIN, _SMALL)
    canvas.drawRightString(right, top, inert(document.span))
    canvas.line(MARGIN_POINTS, top - 5, right, top - 5)
    canvas.line(MARGIN_POINTS, bottom + 9, right, bottom + 9)
    canvas.drawString(MARGIN_POINTS, bottom, inert(document.foot))
    canvas.drawRightString(right, bottom, f"page {number} of {pages}")
