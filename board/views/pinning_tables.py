"""A move and a draft's differences as tables."""

from board.views.pinning import Move
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


def move_table(view: Move) -> Table:
    """Each figure now and then; what changes stands out."""
    columns = (Column(grow=True), Column("now", right=True), Column("then", right=True))
    rows = tuple(
        Row(
            line.what,
            (
                Cell(line.what, Tone.QUIET),
                Cell(line.now),
                Cell(line.then, Tone.PLAIN if line.same else Tone.STRONG),
            ),
        )
        for line in view.lines
    )
    return Table(view.heading, columns, rows)


def broken_table(view: Move) -> Table:
    """The rules a move would break."""
    rows = tuple(Row("", (Cell(says, Tone.LATE),)) for says in view.broken)
    return Table("Breaks" if rows else "", (Column(grow=True),), rows, "", "Breaks no rule.")


def changes_table(says: tuple[str, ...]) -> Table:
    """What the draft changes of the committed plan."""
    rows = tuple(Row("", (Cell(one),)) for one in says)
    return Table(
        "Changed",
        (Column(grow=True, note="change"),),
        rows,
        "",
        "The draft changes nothing of the committed plan.",
    )
