"""The Record view as a table."""

from board.views.record import Record, RecordLine
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


def record_table(view: Record) -> Table:
    """Entries newest first; what was taken back stays, and says so."""
    columns = (Column(), Column(), Column(grow=True), Column(), Column(drop=1))
    aside = f"{view.kind.value}, newest first"
    if view.left_out:
        aside += f"; the last {len(view.lines)}"
    return Table(
        "Record", columns, tuple(_row(line) for line in view.lines), aside, "Nothing is recorded yet."
    )


def _row(line: RecordLine) -> Row:
    says = f"{line.says} (taken back)" if line.taken_back else line.says
    cells = (
        Cell(line.day, Tone.QUIET),
        Cell(line.clock, Tone.QUIET),
        Cell(says, Tone.QUIET if line.taken_back else line.tone),
        Cell(line.who, Tone.QUIET),
        Cell(line.noted, Tone.QUIET),
    )
    return Row(line.key, cells)
