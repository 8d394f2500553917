"""A move and a draft's differences as tables."""

from board.views.pinning import Move, MoveLine
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


def move_table(view: Move, across: int) -> Table:
    """Its figures as they are and would be, so many side by side; what changes stands out."""
    cells = [cell for line in view.lines for cell in _figure(line)]
    wide = 2 * across
    rows = [cells[at : at + wide] for at in range(0, len(cells), wide)]
    full = (tuple(row + [Cell("")] * (wide - len(row))) for row in rows)
    columns = tuple(Column() for _ in range(wide))
    return Table("", columns, tuple(Row(str(n), row) for n, row in enumerate(full)))


def _figure(line: MoveLine) -> tuple[Cell, Cell]:
    """What it is, and how it is: once where it stays, else as it is and as it would be."""
    if line.same:
        return Cell(line.what, Tone.QUIET), Cell(line.now)
    return Cell(line.what, Tone.QUIET), Cell(f"{line.now} → {line.then}", Tone.STRONG)


def broken_table(view: Move) -> Table:
    """The rules a move would break."""
    rows = tuple(Row("", (Cell(f"▲ {says}", Tone.LATE),)) for says in view.broken)
    rows += tuple(Row("", (Cell(f"? as they lie now {says}", Tone.CARE),)) for says in view.settled_next)
    return Table("", (Column(grow=True),), rows, "", "Breaks no rule.")
