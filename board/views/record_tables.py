"""The Record view as a table."""

from board.views.record import Kind, Record, RecordLine
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

_EMPTY = {
    Kind.COOKED: "No load came off in these days.",
    Kind.HOLDING: "Nothing was held, and no cooler was read, in these days.",
    Kind.COOLING: "Nothing was cooled, reheated or thawed in these days: b begins a watch.",
    Kind.MARKS: "Nothing was date-marked in these days.",
    Kind.FAILED: "Nothing failed in these days.",
    Kind.PROBES: "No probe was checked yet: p records a check.",
}


def record_table(view: Record) -> Table:
    """Entries newest first; what was taken back stays, and says so."""
    columns = (
        Column(note="record-day"),
        Column(note="told-at"),
        Column(grow=True, note="told"),
        Column(),
        Column(drop=1, note="written-at"),
    )
    aside = ", ".join(filter(None, (view.kind.value, view.span, "newest first")))
    if view.left_out:
        aside += f"; the last {len(view.lines)}"
    return Table(
        "Record",
        columns,
        tuple(_row(line) for line in view.lines),
        aside,
        _EMPTY.get(view.kind, "Nothing is recorded yet."),
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
    return Row(line.key, cells, tuple(Cell(text, Tone.CARE) for text in line.below))
