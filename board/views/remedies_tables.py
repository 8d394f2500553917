"""The remedies of a load as tables: those offered, and those left out with why."""

from board.views.remedies import Remedies, RemedyLine
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


def remedies_table(view: Remedies) -> Table:
    """Each remedy with its likely time, span and chance; its costs stand under it."""
    columns = (Column(grow=True, note="remedy"), Column("ready"), Column("likely", drop=2), Column("in time"))
    return Table("Would help", columns, tuple(_row(view, line) for line in view.lines))


def _row(view: Remedies, line: RemedyLine) -> Row:
    is_nothing = line is view.lines[-1]
    cells = (
        Cell(line.says, Tone.QUIET if is_nothing else Tone.STRONG),
        Cell(line.ready),
        Cell(line.span, Tone.QUIET),
        Cell(line.odds, Tone.QUIET if is_nothing else Tone.PLAIN),
    )
    below = (Cell("; ".join(line.costs), Tone.QUIET),) if line.costs else ()
    return Row(line.key, cells, below)


def left_out_table(view: Remedies) -> Table:
    """What is not offered, and why."""
    rows = tuple(Row(str(i), (Cell(says, Tone.QUIET),)) for i, says in enumerate(view.left_out))
    return Table("Not offered" if rows else "", (Column(grow=True),), rows)
