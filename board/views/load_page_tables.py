"""A load's page as tables: what is known of it, and the account of its number."""

from collections.abc import Iterator

from board.views.load_page import LoadPage
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


def verdict_table(page: LoadPage) -> Table:
    """What it is and where it stands, over the one sentence to read first."""
    aside = "  ".join(text for text in (page.where, page.core) if text)
    row = Row(page.key, (Cell(page.verdict, page.tone),))
    return Table(page.meat, (Column(grow=True, note="verdict"),), (row,), aside)


def known_table(page: LoadPage) -> Table:
    """Its readings and notes, newest first, after its particulars."""
    columns = (Column(note="load-fact"), Column(grow=True, note="load-fact"))
    rows = [
        Row(f"{kind}/{i}", (Cell(line.head, Tone.QUIET), Cell(line.says, line.tone)))
        for kind, lines in (("fact", page.facts), ("diary", page.diary))
        for i, line in enumerate(lines)
    ]
    return Table("This load", columns, tuple(rows))


def why_table(page: LoadPage) -> Table:
    """The account in one list, its questions as headings."""
    columns = (Column(right=True, note="load-account"), Column(grow=True, note="load-account"))
    empty = page.busy or "The sums know nothing of this cut on this pit."
    return Table("Why it takes so long", columns, tuple(_whys(page.why)), "", empty)


def _whys(tables: tuple[Table, ...]) -> Iterator[Row]:
    for table in tables:
        title = f"{table.title}, {table.aside}" if table.aside else table.title
        yield Row(table.title, (Cell(""), Cell(title, Tone.HEAD, short=table.title)))
        yield from table.rows
