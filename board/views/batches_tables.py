"""The Batches view as tables: the list, and the card of one."""

from board.views.batches import Batches, BatchLine, Card
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


def list_table(view: Batches) -> Table:
    """Every batch that matters now, the first due first."""
    columns = (
        Column(),
        Column("amount", right=True),
        Column("for", drop=2),
        Column("make by"),
        Column("ready", drop=3),
        Column("use by", drop=1),
        Column("state", grow=True),
    )
    return Table("Batches", columns, tuple(_row(line) for line in view.lines), "", "No batch is planned.")


def _row(line: BatchLine) -> Row:
    cells = (
        Cell(line.name, Tone.QUIET if line.tone is Tone.QUIET else Tone.STRONG),
        Cell(line.amount),
        Cell(line.day, Tone.QUIET),
        Cell(line.make_by, Tone.LATE if line.tone is Tone.LATE else Tone.PLAIN),
        Cell(line.ready_from, Tone.QUIET),
        Cell(line.use_by, Tone.QUIET),
        Cell(line.state, line.tone),
    )
    return Row(line.key, cells)


def weighing_table(card: Card) -> Table:
    """What to weigh for one batch."""
    columns = (Column(grow=True), Column(right=True), Column(drop=1))
    rows = tuple(
        Row(str(i), (Cell(w.name), Cell(w.amount, Tone.STRONG), Cell(w.about, Tone.QUIET)))
        for i, w in enumerate(card.weighing)
    )
    title = card.title[:1].upper() + card.title[1:]
    return Table(title, columns, rows, "", "This recipe cannot be made so.")


def says_table(card: Card) -> Table:
    """What one batch is for, what it does to the meat, and what to mind."""
    says = [Cell(card.aside, Tone.QUIET)] if card.aside else []
    says += [Cell(text) for text in card.says]
    says += [Cell(f"mind: {text}", Tone.CARE) for text in card.warnings]
    return Table("What it is", (Column(grow=True),), tuple(Row(str(i), (c,)) for i, c in enumerate(says)))
