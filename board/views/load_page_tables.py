"""A load's page as tables: what is known of it, and the account of its number."""

from collections.abc import Iterator, Sequence

from board.views.load_page import LoadPage, Told
from board.views.load_steps import ChainStep, Stands
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

_SIGNS = {Stands.DONE: "✓", Stands.NEXT: "▶", Stands.LATER: "·"}
_TOLD = (Column(note="load-fact"), Column(grow=True, note="load-fact"))


def verdict_table(page: LoadPage) -> Table:
    """What it is and where it stands, over the one sentence to read first."""
    aside = "  ".join(text for text in (page.where, page.core) if text)
    row = Row(page.key, (Cell(page.verdict, page.tone),))
    return Table(page.meat, (Column(grow=True, note="verdict"),), (row,), aside)


def known_table(page: LoadPage) -> Table:
    """Its particulars; of a late one why it is late before all else."""
    return Table("This load", _TOLD, tuple(_told("fact", page.facts)))


def record_table(page: LoadPage) -> Table:
    """Its readings, marks and notes, newest first."""
    return Table("Record", _TOLD, tuple(_told("diary", page.diary)), "", "Nothing is recorded of it yet.")


def steps_table(page: LoadPage) -> Table:
    """Its chain: what is done with its true time, what is next, what follows."""
    says = Column(grow=True, note="load-fact")
    columns = (Column(), Column(right=True, note="load-fact"), says, Column(drop=1), Column(note="load-fact"))
    return Table("Steps", columns, tuple(map(_step_row, page.steps)), "", "No step is planned for it.")


def _told(kind: str, lines: Sequence[Told]) -> Iterator[Row]:
    for n, line in enumerate(lines):
        yield Row(f"{kind}/{n}", (Cell(line.head, Tone.QUIET), Cell(line.says, line.tone)))


def _step_row(step: ChainStep) -> Row:
    said = {Stands.DONE: Tone.QUIET, Stands.NEXT: Tone.HEAT, Stands.LATER: Tone.PLAIN}[step.stands]
    word = Cell(f"{step.overdue} overdue ▲", Tone.LATE) if step.overdue else Cell(str(step.stands), said)
    cells = (
        Cell(_SIGNS[step.stands], said),
        Cell(step.clock, Tone.QUIET),
        Cell(step.says, said),
        Cell(step.who, Tone.QUIET),
        word,
    )
    return Row(step.key, cells)


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
