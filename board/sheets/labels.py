"""Labels as text, and as a PDF: a sheet of 24, or one a page; the same bytes for the same labels.

The PDF library takes 0.1 s to import, so this file is imported where labels are printed.
"""

from collections.abc import Iterator, Sequence
from io import BytesIO

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from board.sheets.page import heading
from board.sheets.papers import PAPERS, Paper
from board.sheets.typefaces import BOLD, PLAIN, load_typefaces
from board.views.labels import Label
from board.views.text import inert, wrapped

MM = 72 / 25.4
_PAD = 3 * MM
_SIZES = tuple(size / 2 for size in range(20, 7, -1))  # points, the largest that fits is taken
_LEADING, _NAME = 1.18, 1.35  # of the size: from line to line, and the name's own


def labels_text(labels: Sequence[Label], width: int) -> str:
    """The labels as plain text, one under the other."""
    return "\n".join("\n".join(_as_text(one, width)) + "\n" for one in labels)


def _as_text(one: Label, width: int) -> Iterator[str]:
    yield from heading(one.name, f"lot {one.lot}", width)
    for text in (*one.says, *(f"! {mind}" for mind in one.minds)):
        yield from (f"  {line}" for line in wrapped(text, width - 2))


def labels_pdf(labels: Sequence[Label], paper: str = "a4") -> bytes:
    """The labels as the bytes of a PDF, on a paper of `PAPERS`; a sheet begins at its first label."""
    load_typefaces()
    page, out = PAPERS[paper], BytesIO()
    canvas = Canvas(out, pagesize=(page.width_mm * MM, page.height_mm * MM), invariant=1)
    canvas.setTitle("labels")
    a_page = page.across * page.down
    for number, one in enumerate(labels):
        if number and number % a_page == 0:
            canvas.showPage()
        down, across = divmod(number % a_page, page.across)
        _draw(canvas, page, one, across, down)
    canvas.save()
    return out.getvalue()


def _draw(canvas: Canvas, page: Paper, one: Label, across: int, down: int) -> None:
    """One label in its place, in the largest type that all of it fits in."""
    wide, high = page.width_mm * MM / page.across, page.height_mm * MM / page.down
    left, top = across * wide + _PAD, (page.down - down) * high - _PAD
    room = (wide - 2 * _PAD, high - 2 * _PAD)
    size = next((s for s in _SIZES if _height(one, s, room[0]) <= room[1]), _SIZES[-1])
    y = top
    for text, face, points in _lines(one, size, room[0]):
        y -= points * _LEADING
        canvas.setFont(face, points)
        canvas.drawString(left, y + points * (_LEADING - 1), text)


def _height(one: Label, size: float, width: float) -> float:
    return sum(points * _LEADING for _, _, points in _lines(one, size, width))


def _lines(one: Label, size: float, width: float) -> list[tuple[str, str, float]]:
    """The label's lines broken to its width: text, face and points."""
    parts = [(one.name, BOLD, size * _NAME), (f"lot {one.lot}", BOLD, size)]
    parts += [(text, PLAIN, size) for text in one.says]
    parts += [(text, BOLD, size) for text in one.minds]
    return [
        (line, face, points)
        for text, face, points in parts
        for line in _broken(inert(text), face, points, width)
    ]


def _broken(text: str, face: str, points: float, width: float) -> list[str]:
    """The text in lines no wider than the label; a word that is wider is broken."""
    lines, line = [], ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if line and stringWidth(longer, face, points) > width:
            lines.append(line)
            longer = word
        while (fits := _fitting(longer, face, points, width)) < len(longer):
            lines.append(longer[:fits])
            longer = longer[fits:]
        line = longer
    return [*lines, line] if line else lines


def _fitting(text: str, face: str, points: float, width: float) -> int:
    """How many of its letters fit a width, at least one."""
    fits = len(text)
    while fits > 1 and stringWidth(text[:fits], face, points) > width:
        fits -= 1
    return fits
